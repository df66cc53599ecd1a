package balance

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/thermal"
	"aftbay/thermal/radiate"
	"aftbay/thermal/soak"
)

// Of a soak that does not say so. Common practice, no source.
const (
	usualMinutes  = 20
	usualAirTimeS = 600
)

// airs is how the air goes after key-off: from one temperature to another,
// exponentially; a plume fades alike.
type airs struct {
	fromK, toK, timeS float64
	surroundingsK     float64
	plumeK            float64 // at key-off
}

func (a airs) at(timeS float64) thermal.Ambient {
	left := math.Exp(-timeS / a.timeS)
	return thermal.Ambient{AirK: a.toK + (a.fromK-a.toK)*left, SurroundingsK: a.surroundingsK, PlumeK: a.plumeK * left}
}

// airsOf returns the air of a soak that starts in a state.
func airsOf(hc *layout.HeatCase, start thermal.Ambient, v variation) airs {
	a := airs{fromK: start.AirK, toK: start.AirK, timeS: usualAirTimeS, surroundingsK: start.SurroundingsK, plumeK: riseOf(hc)}
	if hc.AirDegC != nil {
		a.fromK = thermal.Kelvin(*hc.AirDegC) + v.airK
		a.toK = a.fromK
	}
	if hc.AirSettlesDegC != nil {
		a.toK = thermal.Kelvin(*hc.AirSettlesDegC) + v.airK
	}
	if hc.AirTimeS != nil && *hc.AirTimeS > 0 {
		a.timeS = *hc.AirTimeS
	}
	if hc.SurroundingsDegC != nil {
		a.surroundingsK = thermal.Kelvin(*hc.SurroundingsDegC) + v.surroundingsK
	}
	return a
}

// soak follows every variation of a case after key-off.
func (st *study) soak(ctx context.Context, hc *layout.HeatCase, from *solution, exchange []*radiate.Absorbed) (*solution, error) {
	st.fillCapacities()
	minutes := float64(usualMinutes)
	if hc.Minutes != nil {
		minutes = *hc.Minutes
	} else {
		st.assumed.add(say.F("heat case %q: %d minutes", hc.Name, usualMinutes))
	}
	if hc.AirSettlesDegC != nil && hc.AirTimeS == nil {
		st.assumed.add(say.F("heat case %q: the air settles with a time of %d s", hc.Name, usualAirTimeS))
	}
	sol := &solution{hc: hc, columns: uniform, variations: from.variations, from: from, plume: st.plumeOf(hc)}
	shares := sol.plume.shares(st)
	n := len(sol.variations)
	sol.networks, sol.states = make([]*thermal.Network, n), make([]state, n)
	sol.curves, sol.air = make([]*soak.Curve, n), make([]airs, n)
	stepped := n
	if st.options.Coarse {
		stepped = 1
	}
	err := geom.Each(ctx, st.options.Workers, n, nil, func(i int) error {
		v := sol.variations[i]
		start := from.end(i)
		sol.air[i] = airsOf(hc, start.around, v)
		sol.states[i] = state{tempsK: start.tempsK, around: sol.air[i].at(0)}
		sol.networks[i] = st.network(hc, v, exchange[i], uniform, shares)
		if i >= stepped {
			return nil
		}
		sc := soak.Case{Network: sol.networks[i], StartK: start.tempsK, EndS: minutes * 60, Around: sol.air[i].at}
		if st.options.Coarse {
			sc.StepErrorK = coarseStepK
		}
		var err error
		sol.curves[i], err = soak.Run(ctx, sc)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i := stepped; i < n; i++ { // coarse: the band with which it starts is kept
		sol.curves[i] = sol.curves[0].From(sol.states[i].tempsK)
	}
	return sol, nil
}

// ghostJK is the heat capacity of a part that takes no part.
const ghostJK = 1

// fillCapacities finds the heat capacities, once.
func (st *study) fillCapacities() {
	for i := range st.parts {
		p := &st.parts[i]
		switch {
		case p.capacityJK > 0:
		case p.body.Mesh == nil:
			p.capacityJK = ghostJK
		default:
			p.capacityJK = math.Max(p.heatJK(&st.assumed), leastJK)
		}
	}
}

// leastJK keeps a part without surface from having no heat capacity.
const leastJK = 1e-3
