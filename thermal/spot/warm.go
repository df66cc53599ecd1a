package spot

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/lead"
	"aftbay/thermal/balance"
)

const (
	// mostWarm bounds the places of one round at which heat is measured in full.
	// Places come evenly spread, so the first of them are so too; at the others a
	// glance tells the nominal temperature, and the nearest of those measured on
	// their host lends them its band, see estimate.
	mostWarm = 150
	// glanceRays per patch of the component are shot for an estimate.
	glanceRays = 16
	// How far the high temperature may be off where few rays are shot, and where
	// it is estimated, as a share of what it is above a cold room: the test says
	// how seldom it is off by more.
	coarseErrorShare = 0.08
	glanceErrorShare = 0.15
	roomDegC         = 20
	// edgeShare: a place whose limit is met to within this share of that error is
	// measured better. Those that are proposed are measured finely in any case.
	edgeShare = 0.5
)

// warm finds the heat of places that pass everything else: all of them are at
// least estimated, and those whose verdict an estimate leaves open are measured.
func (st *study) warm(ctx context.Context, tried []trial, progress geom.Progress) error {
	var warm []*trial
	for i := range tried {
		if tried[i].reason == "" {
			warm = append(warm, &tried[i])
		}
	}
	measured := warm[:min(len(warm), mostWarm)]
	err := geom.Each(ctx, st.options.Workers, len(measured), progress, func(k int) error { return st.measure(ctx, measured[k]) })
	if err != nil || len(measured) == len(warm) {
		return err
	}
	rest := warm[len(measured):]
	return geom.Each(ctx, st.options.Workers, len(rest), nil, func(k int) error {
		sure, err := st.estimate(ctx, rest[k], nearestTo(rest[k], measured))
		if err != nil || sure {
			return err
		}
		return st.measure(ctx, rest[k])
	})
}

// measure finds the heat of a place by few rays, by more where its limit is
// about met.
func (st *study) measure(ctx context.Context, t *trial) error {
	t.reason = "" // of an estimate
	if err := st.heatOf(ctx, t, coarseRays); err != nil || math.Abs(t.highMarginK) > edgeShare*t.errorK {
		return err
	}
	t.reason = ""
	return st.heatOf(ctx, t, fineRays)
}

// nearestTo returns the nearest place on the same side of the same host, nil
// where there is none.
func nearestTo(t *trial, list []*trial) *trial {
	var best *trial
	bestMM := math.Inf(1)
	for _, o := range list {
		if farMM := o.point.Sub(t.point).Len(); o.host == t.host && farMM < bestMM && o.normal.Dot(t.normal) > 0.5 {
			best, bestMM = o, farMM
		}
	}
	return best
}

// estimate finds the nominal temperatures of a place by a glance and takes the
// width of their bands from a place near by. It reports whether that settles
// which side of its limits the place is on. near may be nil.
func (st *study) estimate(ctx context.Context, t, near *trial) (sure bool, err error) {
	if near == nil || st.heat == nil {
		return false, nil
	}
	view, err := st.heat.Look(st.receiver(t, glanceRays))
	if err != nil {
		return false, err
	}
	t.cases = slices.Clone(near.cases)
	for i := range t.cases {
		nominalDegC, err := st.heat.Glance(ctx, i, view)
		if err != nil {
			return false, err
		}
		t.cases[i].shift(nominalDegC - near.cases[i].Temperature.NominalDegC)
	}
	t.rays, t.view = 0, view
	t.judge(glanceErrorShare)
	return math.Abs(t.highMarginK) > edgeShare*t.errorK, nil
}

// shift moves a temperature as a whole.
func (c *CaseHeat) shift(byK float64) {
	b := &c.Temperature
	b.LowDegC, b.NominalDegC, b.HighDegC = b.LowDegC+byK, b.NominalDegC+byK, b.HighDegC+byK
	if c.LimitDegC != nil {
		c.MarginK, c.Verdict = new(*c.LimitDegC-b.NominalDegC), balance.Judge(*b, *c.LimitDegC)
	}
}

// promise returns the best score that a place may turn out to have once its
// heat is measured finely and its lead pulled taut.
func (t *trial) promise(st *study) float64 {
	hope := *t
	hope.highMarginK += t.errorK
	if t.reachMM != nil && !t.tight {
		hope.reachMM = new(*t.reachMM * (1 - lead.MostGainShare))
	}
	hope.rate(st)
	return hope.score
}
