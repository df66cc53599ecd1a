package spot

import (
	"cmp"
	"context"
	"slices"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

const (
	// moreLeadMM is how much longer a lead is tried.
	moreLeadMM = 50
	// mostRetried bounds the places that are tried again for one change; of more,
	// every so many are, and the count is scaled up.
	mostRetried = 120
	// sheetEmissivity is that of a bright shield.
	sheetEmissivity = 0.1 // common practice, no source
	// beyondClassesK is added to a limit above the highest class.
	beyondClassesK = 20
)

// classesDegC are the thermal classes of insulation.
//
// Source: IEC 60085, from memory. Read-only.
var classesDegC = []float64{105, 120, 130, 155, 180, 200, 220, 250}

// changes finds which single change of the task would open most places.
func (st *study) changes(ctx context.Context, tried []trial) ([]Change, error) {
	out := []Change{}
	for _, change := range []func(context.Context, []trial) (*Change, error){st.longerLead, st.higherLimit, st.shield} {
		c, err := change(ctx, tried)
		if err != nil {
			return nil, err
		}
		if c != nil {
			out = append(out, *c)
		}
	}
	slices.SortStableFunc(out, func(a, b Change) int { return cmp.Compare(b.Opens, a.Opens) })
	return out, nil
}

// refusedFor returns the places of the even round that were refused for one of
// some reasons, and how many each stands for.
func refusedFor(tried []trial, reasons ...string) []*trial {
	var out []*trial
	for i := range tried {
		if tried[i].even && slices.Contains(reasons, tried[i].reason) {
			out = append(out, &tried[i])
		}
	}
	return out
}

// count runs a test on places and returns how many pass, scaled up where not
// all were tested; about says so.
func (st *study) count(ctx context.Context, list []*trial, passes func(t *trial) (bool, error)) (opens int, about bool, err error) {
	stride := (len(list) + mostRetried - 1) / mostRetried
	if stride == 0 {
		return 0, false, nil
	}
	n := (len(list) + stride - 1) / stride
	open := make([]bool, n)
	err = geom.Each(ctx, st.options.Workers, n, nil, func(k int) error {
		var err error
		open[k], err = passes(list[k*stride])
		return err
	})
	for _, ok := range open {
		if ok {
			opens++
		}
	}
	return opens * len(list) / n, stride > 1, err
}

func aboutText(about bool) say.Text {
	if about {
		return say.Of("about ")
	}
	return say.Text{}
}

// longerLead tries the reach with moreLeadMM more.
func (st *study) longerLead(ctx context.Context, tried []trial) (*Change, error) {
	all := refusedFor(tried, TooFar, NoLead)
	if st.layout.ReachMM == nil || len(all) == 0 {
		return nil, nil
	}
	mostMM := *st.layout.ReachMM + moreLeadMM
	longer := *st
	task := *st.layout
	task.ReachMM = &mostMM
	longer.layout = &task
	near := slices.DeleteFunc(slices.Clone(all), func(t *trial) bool { return t.missed > moreLeadMM })
	opens, about, err := longer.count(ctx, near, func(t *trial) (bool, error) {
		turns, err := longer.stand(ctx, t.place, firstTurns)
		if err != nil {
			return false, err
		}
		again, err := longer.choose(ctx, turns)
		if err != nil || again.reason != "" {
			return false, err
		}
		err = longer.heatOf(ctx, &again, coarseRays)
		return again.reason == "", err
	})
	return &Change{
		Change: say.F("lead +%d mm", moreLeadMM), Reason: TooFar, Opens: opens, Of: len(all),
		Sentence: say.F("A lead of %.0f mm instead of %g opens %s%d of %d places that are too far.", mostMM, *st.layout.ReachMM, aboutText(about), opens, len(all)),
	}, err
}

// higherLimit takes the next class of insulation.
func (st *study) higherLimit(_ context.Context, tried []trial) (*Change, error) {
	all := refusedFor(tried, TooHot)
	l := st.layout.LimitDegC
	if l == nil || len(all) == 0 {
		return nil, nil
	}
	limit := l.ContinuousDegC
	if limit == nil {
		limit = l.PeakDegC
	}
	if limit == nil {
		return nil, nil
	}
	nextDegC, class := *limit+beyondClassesK, say.Text{}
	if i, _ := slices.BinarySearch(classesDegC, *limit+1e-9); i < len(classesDegC) {
		nextDegC, class = classesDegC[i], say.Of(", the next thermal class of IEC 60085")
	}
	moreK, opens := nextDegC-*limit, 0
	for _, t := range all {
		if !slices.ContainsFunc(t.cases, func(c CaseHeat) bool { return c.LimitDegC != nil && marginK(&c) < -moreK }) {
			opens++
		}
	}
	return &Change{
		Change: say.F("limit +%g K", moreK), Reason: TooHot, Opens: opens, Of: len(all),
		Sentence: say.F("A component that stands %g °C instead of %g%s, opens %d of %d places that are too hot.", nextDegC, *limit, class, opens, len(all)),
	}, nil
}

// shield puts a bright sheet between the places that are too hot and what heats
// most of them. An estimate: beside the full solve with the sheet drawn it was
// 2 to 5 K too warm, see the test.
func (st *study) shield(ctx context.Context, tried []trial) (*Change, error) {
	all := refusedFor(tried, TooHot)
	source := heater(all)
	if source == "" {
		return nil, nil
	}
	spot := 0.9
	if e := st.layout.Emissivity; e != nil {
		spot = max(*e, sheetEmissivity)
	}
	pass := balance.ScreenShare(st.heat.EmissivityOf(source), spot, sheetEmissivity)
	opens, about, err := st.count(ctx, all, func(t *trial) (bool, error) {
		view, err := st.heat.Screened(t.view, source, pass)
		if err != nil {
			return false, err
		}
		for i := range st.heat.Cases {
			ph, err := st.heat.Receive(ctx, i, view)
			if err != nil || ph.Verdict == balance.Over {
				return false, err
			}
		}
		return true, nil
	})
	return &Change{
		Change: say.F("shield against %s", source), Reason: TooHot, Opens: opens, Of: len(all), Estimate: true,
		Sentence: say.F("A bright shield between %s and the place opens %s%d of %d places that are too hot. Estimate: the shield itself is not solved for; drawn and solved it does a little more.", source, aboutText(about), opens, len(all)),
	}, err
}

// heater names the part that sends most to the places that are too hot, "" for
// none.
func heater(list []*trial) string {
	sums := map[string]float64{}
	var names []string
	for _, t := range list {
		for _, from := range t.cases[t.worst].From {
			if from.Part == balance.Surroundings {
				continue
			}
			if _, known := sums[from.Part]; !known {
				names = append(names, from.Part)
			}
			sums[from.Part] += from.Share
		}
	}
	best := ""
	for _, name := range names {
		if best == "" || sums[name] > sums[best] {
			best = name
		}
	}
	return best
}
