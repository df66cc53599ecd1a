package balance

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/thermal"
)

// answer turns a solution into what the user reads.
func (st *study) answer(ctx context.Context, hc *layout.HeatCase, sol *solution) (Case, error) {
	c := Case{Name: hc.Name, After: hc.After, solved: sol}
	if st.sums == nil {
		st.sums = st.newSums()
	}
	all := make([]PartHeat, len(st.parts))
	err := geom.Each(ctx, st.options.Workers, len(st.parts), nil, func(i int) error {
		if st.parts[i].body.Mesh == nil {
			return nil
		}
		ph := PartHeat{Part: i, Name: st.parts[i].name, Held: st.parts[i].held && sol.columns == profiled, Emissivity: st.parts[i].outer.emissivity}
		now := sol.start()
		if sol.curves == nil {
			st.answerStanding(&ph, sol)
		} else {
			now = st.answerSoak(&ph, sol)
		}
		ph.flows(sol.networks[0], i, now)
		st.answerRadiation(&ph, sol, now, st.sums)
		all[i] = ph
		return nil
	})
	if err != nil {
		return c, err
	}
	for i := range all {
		if st.parts[i].body.Mesh != nil {
			c.Parts = append(c.Parts, all[i])
		}
	}
	st.total(&c, sol)
	return c, nil
}

// total sums the flows of all parts.
func (st *study) total(c *Case, sol *solution) {
	end := sol.end(0)
	for i := range st.parts {
		f := sol.networks[0].Flows(i, end.tempsK, end.around)
		c.BalanceW += f.NetW()
		if sol.curves == nil {
			c.SuppliedW += f.PowerW
			if st.parts[i].held {
				c.SuppliedW -= f.NetW()
			}
			c.TakenW -= f.ConvectiveW
		}
	}
	if sol.curves == nil {
		c.TakenW += st.toSurroundingsW(sol.columns, end)
	}
}

// toSurroundingsW returns what leaves the patches for the surroundings, less
// what comes from there.
func (st *study) toSurroundingsW(use columns, now state) float64 {
	emittedWM2 := st.emitted(use, now)
	row := make([]float64, len(emittedWM2))
	var sumW float64
	for p := range st.set.Patches {
		away := st.factors.Away[p]
		if away == 0 {
			continue
		}
		clear(row)
		st.received.AddLeaving(row, p, 1)
		leavesWM2 := -emittedWM2[len(emittedWM2)-1]
		for c, share := range row {
			leavesWM2 += share * emittedWM2[c]
		}
		sumW += st.set.Patches[p].AreaM2 * away * leavesWM2
	}
	return sumW
}

// answerStanding sets the temperatures of a settled part.
func (st *study) answerStanding(ph *PartHeat, sol *solution) {
	tempsK := make([]float64, len(sol.states))
	for v := range sol.states {
		tempsK[v] = sol.states[v].tempsK[ph.Part]
	}
	ph.temperature(tempsK)
	p := &st.parts[ph.Part]
	if p.props.HeldAlong != nil {
		hottest := thermal.Celsius(p.hottestK)
		ph.HottestDegC = &hottest
	}
	ph.judge(&p.stands, false)
}

// temperature sets the band from one figure per variation.
func (ph *PartHeat) temperature(tempsK []float64) {
	lowK, highK := band(tempsK)
	ph.Effects = effects(tempsK)
	ph.Temperature = Band{LowDegC: thermal.Celsius(lowK), NominalDegC: thermal.Celsius(tempsK[0]), HighDegC: thermal.Celsius(highK)}
}

// flows sets the heat flows of a node.
func (ph *PartHeat) flows(n *thermal.Network, node int, now state) {
	f := n.Flows(node, now.tempsK, now.around)
	ph.FilmWM2K = n.FilmWM2K(node, now.tempsK[node], n.AirK(node, now.around))
	ph.RadiativeW, ph.ConvectiveW, ph.ConductedW, ph.PowerW, ph.NetW = f.RadiativeW, f.ConvectiveW, f.ConductedW, f.PowerW, f.NetW()
}

// curveSamples is how many pieces a soak curve is cut into for the report.
const curveSamples = 60

// curveOf samples a part's soak with its band.
func curveOf(sol *solution, part int) []Sample {
	var out []Sample
	endS := sol.curves[0].EndS()
	tempsK := make([]float64, len(sol.curves))
	for k := range curveSamples + 1 {
		timeS := endS * float64(k) / curveSamples
		for v, c := range sol.curves {
			tempsK[v] = c.AtK(part, timeS)
		}
		lowK, highK := band(tempsK)
		out = append(out, Sample{
			TimeS: timeS, TemperatureDegC: thermal.Celsius(tempsK[0]), LowDegC: thermal.Celsius(lowK), HighDegC: thermal.Celsius(highK),
		})
	}
	return out
}

// highAboveS returns how long the high end of a curve is above a limit, straight
// between its points.
func highAboveS(curve []Sample, limitDegC float64) float64 {
	var sumS float64
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1].HighDegC-limitDegC, curve[i].HighDegC-limitDegC
		stepS := curve[i].TimeS - curve[i-1].TimeS
		switch {
		case a > 0 && b > 0:
			sumS += stepS
		case a > 0 || b > 0:
			sumS += stepS * math.Max(a, b) / math.Abs(a-b)
		}
	}
	return sumS
}

// answerSoak sets peak, times and curve, and returns the state at the peak.
func (st *study) answerSoak(ph *PartHeat, sol *solution) state {
	i := ph.Part
	peaksK := make([]float64, len(sol.curves))
	for v, c := range sol.curves {
		peaksK[v] = c.Peak(i).TempK
	}
	ph.temperature(peaksK)
	c := sol.curves[0]
	peakS := c.Peak(i).TimeS
	endDegC := thermal.Celsius(c.AtK(i, c.EndS()))
	ph.PeakTimeS, ph.EndDegC = &peakS, &endDegC
	ph.judge(&st.parts[i].stands, true)
	if limit := ph.LimitDegC; limit != nil {
		aboveS := c.AboveS(i, thermal.Kelvin(*limit))
		ph.AboveLimitS = &aboveS
	}
	ph.Curve = curveOf(sol, i)
	if limit := ph.LimitDegC; limit != nil {
		highS := highAboveS(ph.Curve, *limit)
		ph.HighAboveS = &highS
	}
	return sol.at(0, peakS)
}
