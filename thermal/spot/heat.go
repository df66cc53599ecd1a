package spot

import (
	"context"
	"math"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

// Rays per patch of the component: for all places, and for those to be shown.
const (
	coarseRays = 48
	fineRays   = 256
)

// heatOf finds the component's temperature at a place in every case and refuses
// the place where the high end of one is over its limit.
func (st *study) heatOf(ctx context.Context, t *trial, rays int) error {
	if st.heat == nil {
		t.highMarginK = math.Inf(1)
		return nil
	}
	view, err := st.heat.Look(st.receiver(t, rays))
	if err != nil {
		return err
	}
	t.cases, t.rays, t.view = nil, rays, view
	for i := range st.heat.Cases {
		ph, err := st.heat.Receive(ctx, i, view)
		if err != nil {
			return err
		}
		t.cases = append(t.cases, caseHeat(st.heat.Cases[i].Name, &ph))
	}
	errorShare := 0.0
	if rays < fineRays {
		errorShare = coarseErrorShare
	}
	t.judge(errorShare)
	return nil
}

// judge finds the worst case, with how far its high end may be off, and refuses
// the place where a high end is over its limit. What a place sees is kept only
// then: others are not asked again.
func (t *trial) judge(errorShare float64) {
	t.highMarginK = math.Inf(1)
	t.worst = worstOf(t.cases)
	w := &t.cases[t.worst]
	t.errorK = errorShare * math.Max(0, w.Temperature.HighDegC-roomDegC)
	if w.LimitDegC != nil {
		t.highMarginK = marginK(w)
	}
	for i := range t.cases {
		c := &t.cases[i]
		if c.Verdict == balance.Over {
			t.refuse(TooHot, -marginK(c), say.F("%s in %s", c.Temperature.Against(*c.LimitDegC), c.Case))
			return
		}
	}
	t.view = nil
}

// receiver returns the component at a place as the heat study wants it.
func (st *study) receiver(t *trial, rays int) balance.Component {
	c := balance.Component{
		Name: st.layout.Name, Role: st.layout.Role, Mesh: st.component.Mesh, Pose: t.pose, Closed: st.component.Closed,
		Emissivity: st.layout.Emissivity, Limit: st.layout.LimitDegC, Without: st.layout.Replaces, Rays: rays,
	}
	if st.layout.Thermal != nil {
		c.Thermal = *st.layout.Thermal
	}
	c.Thermal.Mount = nil
	if st.mountWK != nil {
		c.Thermal.Mount = &layout.Mount{To: st.scene.Parts[t.host].Name, WK: *st.mountWK}
	}
	return c
}

// mostSources is how many sources of a temperature are told.
const mostSources = 6

func caseHeat(name string, ph *balance.PartHeat) CaseHeat {
	return CaseHeat{
		Case: name, Temperature: ph.Temperature, LimitDegC: ph.LimitDegC, MarginK: ph.MarginK,
		Verdict: ph.Verdict, From: ph.From[:min(len(ph.From), mostSources)],
	}
}

// worstOf returns the case with the least margin of the high side, the highest
// temperature where there are no limits.
func worstOf(cases []CaseHeat) int {
	worst := 0
	for i := range cases {
		if marginK(&cases[i]) < marginK(&cases[worst]) {
			worst = i
		}
	}
	return worst
}

// noLimitDegC stands in for a limit where there is none: all cases are then
// measured against the same.
const noLimitDegC = 1e4

// marginK returns by how much the high end stays below the limit.
func marginK(c *CaseHeat) float64 {
	if c.LimitDegC == nil {
		return noLimitDegC - c.Temperature.HighDegC
	}
	return *c.LimitDegC - c.Temperature.HighDegC
}

// present tells how the replaced part does where it is now, under the limits of
// what replaces it.
func (st *study) present() *Present {
	if st.replaced < 0 {
		return nil
	}
	part := &st.scene.Parts[st.replaced]
	p := &Present{Part: part.Name, PointMM: part.Pose.T, Verdict: balance.NoLimit}
	if serve := st.layout.ServeMM; serve != nil {
		distMM := serve.Sub(part.Pose.T).Len()
		p.ReachMM = &distMM
	}
	if st.heat == nil {
		return p
	}
	for i := range st.heat.Cases {
		c := &st.heat.Cases[i]
		for k := range c.Parts {
			if c.Parts[k].Part == st.replaced {
				p.Cases = append(p.Cases, st.underLimit(caseHeat(c.Name, &c.Parts[k]), c.After != ""))
			}
		}
	}
	if len(p.Cases) == 0 {
		return p
	}
	worst := &p.Cases[worstOf(p.Cases)]
	p.Temperature, p.WorstCase, p.Verdict = &worst.Temperature, worst.Case, worst.Verdict
	for i := range p.Cases {
		if p.Cases[i].Verdict == balance.Over {
			p.Verdict = balance.Over
		}
	}
	return p
}

// underLimit judges a temperature by the component's limit, where it has one.
func (st *study) underLimit(c CaseHeat, peak bool) CaseHeat {
	l := st.layout.LimitDegC
	if l == nil {
		return c
	}
	limit := l.ContinuousDegC
	if peak && l.PeakDegC != nil || limit == nil {
		limit = l.PeakDegC
	}
	if limit == nil {
		return c
	}
	margin := *limit - c.Temperature.NominalDegC
	c.LimitDegC, c.MarginK, c.Verdict = limit, &margin, balance.Judge(c.Temperature, *limit)
	return c
}
