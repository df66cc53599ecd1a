package outcome

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

// place is one part in one case.
type place struct{ in, part string }

// CompareHeat compares the temperatures of two states. thresholdK is the
// smallest change that counts, 0: DefaultThresholdK. Cost: a look through both.
func CompareHeat(old, now *balance.Result, thresholdK float64) *Heat {
	if thresholdK == 0 {
		thresholdK = DefaultThresholdK
	}
	h := &Heat{
		ThresholdK: thresholdK, New: []Temperature{}, Worse: []Temperature{}, Cured: []Temperature{},
		Better: []Temperature{}, Hotter: []Temperature{}, Cooler: []Temperature{},
	}
	before := map[place]*balance.PartHeat{}
	eachPart(old, func(at place, p *balance.PartHeat) { before[at] = p })
	eachPart(now, func(at place, p *balance.PartHeat) {
		h.sort(at, before[at], p)
		delete(before, at)
	})
	eachPart(old, func(at place, p *balance.PartHeat) {
		if before[at] != nil {
			h.sort(at, p, nil)
		}
	})
	for _, list := range [][]Temperature{h.Worse, h.Better, h.Hotter, h.Cooler} {
		slices.SortStableFunc(list, func(a, b Temperature) int { return cmp.Compare(math.Abs(*b.ByK), math.Abs(*a.ByK)) })
	}
	h.Change = changeOf(len(h.New), len(h.Worse), len(h.Cured), len(h.Better))
	h.Sentence = say.F("Heat, each part in each case: %d newly over, %d worse, %d cured, %d better; with room to spare %d hotter and %d cooler by more than %g K, %d the same.",
		len(h.New), len(h.Worse), len(h.Cured), len(h.Better), len(h.Hotter), len(h.Cooler), thresholdK, h.Same)
	return h
}

// changeOf is the gravest of what happened.
func changeOf(fresh, worse, cured, better int) string {
	switch {
	case fresh > 0:
		return New
	case worse > 0:
		return Worse
	case cured > 0:
		return Cured
	case better > 0:
		return Better
	}
	return Same
}

func eachPart(r *balance.Result, do func(at place, p *balance.PartHeat)) {
	for k := range r.Cases {
		for i := range r.Cases[k].Parts {
			p := &r.Cases[k].Parts[i]
			do(place{r.Cases[k].Name, p.Name}, p)
		}
	}
}

// sort puts one part where it belongs; before or now may be nil, not both.
func (h *Heat) sort(at place, before, now *balance.PartHeat) {
	t := temperature(at, before, now)
	over, wasOver := t.Verdict == balance.Over, t.Was == balance.Over
	add := func(to *[]Temperature) { *to = append(*to, t) }
	switch {
	case over && !wasOver:
		add(&h.New)
	case wasOver && !over:
		add(&h.Cured)
	case now == nil:
		h.Gone++
	case before == nil:
		h.Came++
	default:
		h.sortBoth(t)
	}
}

// sortBoth puts a part that is there before and now, over in both or in neither.
func (h *Heat) sortBoth(t Temperature) {
	add := func(to *[]Temperature) { *to = append(*to, t) }
	presses := func(verdict string) bool { return verdict == balance.Over || verdict == balance.Close }
	pressing := presses(t.Was) || presses(t.Verdict)
	byK := *t.ByK
	if t.LimitBeforeDegC != nil && t.LimitNowDegC != nil { // against the limit, where it moved
		byK -= *t.LimitNowDegC - *t.LimitBeforeDegC
	}
	switch {
	case pressing && t.Was == balance.Close && t.Verdict != balance.Close:
		add(&h.Better)
	case pressing && t.Verdict == balance.Close && t.Was != balance.Close:
		add(&h.Worse)
	case pressing && byK > h.ThresholdK:
		add(&h.Worse)
	case pressing && byK < -h.ThresholdK:
		add(&h.Better)
	case !pressing && *t.ByK > h.ThresholdK:
		add(&h.Hotter)
	case !pressing && *t.ByK < -h.ThresholdK:
		add(&h.Cooler)
	default:
		h.Same++
	}
}

func temperature(at place, before, now *balance.PartHeat) Temperature {
	t := Temperature{Case: at.in, Part: at.part}
	if before != nil {
		t.BeforeDegC, t.HighBeforeDegC = &before.Temperature.NominalDegC, &before.Temperature.HighDegC
		t.LimitBeforeDegC, t.Was = before.LimitDegC, before.Verdict
	}
	if now != nil {
		t.NowDegC, t.HighNowDegC = &now.Temperature.NominalDegC, &now.Temperature.HighDegC
		t.LimitNowDegC, t.Verdict = now.LimitDegC, now.Verdict
	}
	if before != nil && now != nil {
		byK := *t.HighNowDegC - *t.HighBeforeDegC
		t.ByK = &byK
	}
	return t
}
