package balance

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom/layout"
	"aftbay/thermal"
)

// answer turns a solution into what the user reads.
func (st *study) answer(hc *layout.HeatCase, sol *solution) Case {
	c := Case{Name: hc.Name, After: hc.After, solved: sol}
	sums := st.newSums()
	for i := range st.parts {
		if st.parts[i].body.Mesh == nil {
			continue
		}
		ph := PartHeat{Part: i, Name: st.parts[i].name, Held: st.parts[i].held && sol.columns == profiled, Emissivity: st.parts[i].emissivity}
		now := sol.start()
		if sol.curves == nil {
			st.answerStanding(&ph, sol)
		} else {
			now = st.answerSoak(&ph, sol)
		}
		st.answerRadiation(&ph, sol, now, sums)
		ph.flows(sol.networks[0], i, now)
		c.Parts = append(c.Parts, ph)
	}
	st.total(&c, sol)
	return c
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
	ph.judge(limitOf(p.layout.LimitDegC, false))
}

// limitOf returns the limit that counts: continuous in a standing case, peak in
// a soak; the other where one is missing. Bare numbers: °C.
func limitOf(l *layout.Limit, peak bool) *float64 {
	switch {
	case l == nil:
		return nil
	case peak && l.PeakDegC != nil, !peak && l.ContinuousDegC == nil:
		return l.PeakDegC
	}
	return l.ContinuousDegC
}

// temperature sets the band from one figure per variation.
func (ph *PartHeat) temperature(tempsK []float64) {
	lowK, highK := band(tempsK)
	ph.Temperature = Band{LowDegC: thermal.Celsius(lowK), NominalDegC: thermal.Celsius(tempsK[0]), HighDegC: thermal.Celsius(highK)}
}

// judge compares the band with a limit.
func (ph *PartHeat) judge(limitDegC *float64) {
	ph.Verdict = NoLimit
	if limitDegC == nil {
		return
	}
	limit := *limitDegC
	marginK := limit - ph.Temperature.NominalDegC
	ph.LimitDegC, ph.MarginK = &limit, &marginK
	switch {
	case ph.Temperature.NominalDegC > limit:
		ph.Verdict = Over
	case ph.Temperature.HighDegC > limit:
		ph.Verdict = Close
	default:
		ph.Verdict = OK
	}
}

// flows sets the heat flows of a node.
func (ph *PartHeat) flows(n *thermal.Network, node int, now state) {
	f := n.Flows(node, now.tempsK, now.around)
	ph.FilmWM2K = n.FilmWM2K(node, now.tempsK[node], now.around.AirK)
	ph.RadiativeW, ph.ConvectiveW, ph.ConductedW, ph.PowerW, ph.NetW = f.RadiativeW, f.ConvectiveW, f.ConductedW, f.PowerW, f.NetW()
}

// curveSamples is how many pieces a soak curve is cut into for the report.
const curveSamples = 60

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
	limit := limitOf(st.parts[i].layout.LimitDegC, true)
	ph.judge(limit)
	if limit != nil {
		aboveS := c.AboveS(i, thermal.Kelvin(*limit))
		ph.AboveLimitS = &aboveS
	}
	for k := range curveSamples + 1 {
		timeS := c.EndS() * float64(k) / curveSamples
		ph.Curve = append(ph.Curve, Sample{TimeS: timeS, TemperatureDegC: thermal.Celsius(c.AtK(i, timeS))})
	}
	now := state{tempsK: make([]float64, len(st.parts)), around: sol.air[0].at(peakS)}
	for j := range now.tempsK {
		now.tempsK[j] = c.AtK(j, peakS)
	}
	return now
}

// sums holds, per part, the mean share of every emitter, and the patches.
type sums struct {
	patches [][]int     // patches[part]: with a radiating side
	share   [][]float64 // share[part][column]: mean over those, of areas. Bare numbers: shares
}

// newSums prepares what answerRadiation reads.
func (st *study) newSums() *sums {
	n := len(st.parts)
	s := &sums{patches: make([][]int, n), share: make([][]float64, n)}
	areaM2 := make([]float64, n)
	for i := range s.share {
		s.share[i] = make([]float64, st.received.Columns)
	}
	for p := range st.set.Patches {
		pp := &st.set.Patches[p]
		if pp.Blind {
			continue
		}
		s.patches[pp.Part] = append(s.patches[pp.Part], p)
		areaM2[pp.Part] += pp.AreaM2
		for c, share := range st.received.Row(p) {
			s.share[pp.Part][c] += pp.AreaM2 * share
		}
	}
	for i := range s.share {
		if areaM2[i] > 0 {
			for c := range s.share[i] {
				s.share[i][c] /= areaM2[i]
			}
		}
	}
	return s
}

// answerRadiation sets the irradiation and where it comes from.
func (st *study) answerRadiation(ph *PartHeat, sol *solution, now state, s *sums) {
	emittedWM2 := st.emitted(sol.columns, now)
	ph.shares(st, s.share[ph.Part], emittedWM2)
	for _, p := range s.patches[ph.Part] {
		var onWM2 float64
		for c, share := range st.received.Row(p) {
			onWM2 += share * emittedWM2[c]
		}
		if onWM2 > ph.Irradiation.PeakWM2 {
			ph.Irradiation.PeakWM2, ph.Irradiation.PeakAtMM = onWM2, st.set.Patches[p].CenterMM
		}
	}
}

// leastShare: smaller sources are not listed.
const leastShare = 1e-6

// shares sets the mean irradiation and its sources from the mean shares per
// emitter column.
func (ph *PartHeat) shares(st *study, meanShares, emittedWM2 []float64) {
	n := len(st.parts)
	perPart := make([]float64, n+1) // W/m²; last the surroundings
	for c, share := range meanShares {
		at := c
		switch {
		case c == len(meanShares)-1:
			at = n
		case c >= n:
			at = st.along[c-n]
		}
		perPart[at] += share * emittedWM2[c]
	}
	for _, w := range perPart {
		ph.Irradiation.MeanWM2 += w
	}
	ph.From = []Share{}
	for i, w := range perPart {
		share := w / math.Max(ph.Irradiation.MeanWM2, leastShare)
		if share < leastShare {
			continue
		}
		name := Surroundings
		if i < n {
			name = st.parts[i].name
		}
		ph.From = append(ph.From, Share{Part: name, Share: share})
	}
	slices.SortStableFunc(ph.From, func(a, b Share) int { return cmp.Compare(b.Share, a.Share) })
}
