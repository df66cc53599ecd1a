package outcome

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"aftbay/geom/drop"
	"aftbay/geom/rearview"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

// All figures are invented; what must come of them follows from the words of
// the package alone.

func ptr(v float64) *float64 { return &v }

// hot is a case with one part, degC at the high end; a limit of 0 is none.
func hot(degC, limitDegC float64, verdict string) *balance.Result {
	p := balance.PartHeat{Name: "coil", Verdict: verdict}
	p.Temperature.NominalDegC, p.Temperature.HighDegC = degC-20, degC // the verdict goes by the high end
	if limitDegC != 0 {
		p.LimitDegC = &limitDegC
	}
	return &balance.Result{Cases: []balance.Case{{Name: "drive", Parts: []balance.PartHeat{p}}}}
}

// listOf names the list that the one part stands in.
func listOf(h *Heat) string {
	for name, list := range map[string][]Temperature{"new": h.New, "worse": h.Worse, "cured": h.Cured, "better": h.Better, "hotter": h.Hotter, "cooler": h.Cooler} {
		if len(list) == 1 {
			return name
		}
	}
	return fmt.Sprintf("same %d, came %d, gone %d", h.Same, h.Came, h.Gone)
}

func TestTemperaturesGoWhereTheyBelong(t *testing.T) {
	none := &balance.Result{}
	for _, c := range []struct {
		name     string
		old, now *balance.Result
		list     string
		change   string
	}{
		{"newly over, however little", hot(129.9, 130, balance.Close), hot(130.1, 130, balance.Over), "new", New},
		{"came, and is over", none, hot(140, 130, balance.Over), "new", New},
		{"cured", hot(140, 130, balance.Over), hot(120, 130, balance.OK), "cured", Cured},
		{"was over and is gone", hot(140, 130, balance.Over), none, "cured", Cured},
		{"over in both, hotter", hot(140, 130, balance.Over), hot(144.1, 130, balance.Over), "worse", Worse},
		{"over in both, cooler", hot(144.1, 130, balance.Over), hot(140, 130, balance.Over), "better", Better},
		{"over in both, within the threshold", hot(140, 130, balance.Over), hot(143.9, 130, balance.Over), "same 1, came 0, gone 0", Same},
		{"now close", hot(118, 130, balance.OK), hot(119, 130, balance.Close), "worse", Worse},
		{"close no more", hot(119, 130, balance.Close), hot(118, 130, balance.OK), "better", Better},
		{"hotter, but the limit rose by more", hot(119, 130, balance.Close), hot(124, 140, balance.Close), "better", Better},
		{"hotter with room to spare", hot(60, 130, balance.OK), hot(65, 130, balance.OK), "hotter", Same},
		{"cooler without a limit", hot(700, 0, balance.NoLimit), hot(690, 0, balance.NoLimit), "cooler", Same},
		{"came with room to spare", none, hot(60, 130, balance.OK), "same 0, came 1, gone 0", Same},
		{"went, and was not over", hot(60, 130, balance.OK), none, "same 0, came 0, gone 1", Same},
	} {
		h := CompareHeat(c.old, c.now, 0)
		if got := listOf(h); got != c.list || h.Change != c.change {
			t.Errorf("%s: %s and %s, want %s and %s", c.name, got, h.Change, c.list, c.change)
		}
	}
	if h := CompareHeat(hot(60, 130, balance.OK), hot(64, 130, balance.OK), 5); h.Same != 1 {
		t.Errorf("with a threshold of 5 K: %s", listOf(h))
	}
}

func dropped(verdict string, window *drop.Window, high string, limits ...drop.Limit) *drop.Result {
	r := &drop.Result{Verdict: verdict, WindowMM: window, Limits: limits}
	if high != "" {
		r.Binding.High = &drop.Stop{Limit: say.Name(high)}
	}
	return r
}

// figure is a Figure in English.
type figure struct {
	What, Unit  string
	Before, Now *float64
}

func figures(list []Figure) []figure {
	var out []figure
	for _, f := range list {
		out = append(out, figure{f.What.String(), f.Unit, f.Before, f.Now})
	}
	return out
}

func TestWindowsOfTheDrop(t *testing.T) {
	w := func(lowMM, highMM float64) *drop.Window { return &drop.Window{lowMM, highMM} }
	for _, c := range []struct {
		name     string
		old, now *drop.Result
		change   string
		says     string
	}{
		{"as before", dropped(drop.OK, w(0, 20), "sump"), dropped(drop.OK, w(0, 20.04), "sump"), Same, "Drop: 0.00 to 20.04 mm, as before."},
		{"lower", dropped(drop.OK, w(0, 20), "sump"), dropped(drop.OK, w(0, 25), "shaft"), Better, "Drop: 0.00 to 25.00 mm; before 0.00 to 20.00 mm. Now stopped by shaft, before by sump."},
		{"less low", dropped(drop.OK, w(0, 20), "sump"), dropped(drop.OK, w(0, 19), "sump"), Worse, "before 0.00 to 20.00 mm."},
		{"lower, but not as high", dropped(drop.OK, w(0, 20), "sump"), dropped(drop.OK, w(2, 40), ""), Worse, "Now stopped by the end of the range, before by sump."},
		{"outside now", dropped(drop.OK, w(0, 20), "sump"), dropped(drop.Short, w(9, 28), "sump"), New, "9.00 to 28.00 mm"},
		{"inside again", dropped(drop.Short, w(9, 28), "sump"), dropped(drop.OK, w(0, 20), "sump"), Cured, ""},
		{"nothing fits", dropped(drop.OK, w(0, 20), "sump"), dropped(drop.Short, nil, ""), New, "no drop meets every limit"},
	} {
		d := CompareDrop(c.old, c.now)
		if d.Change != c.change || !strings.Contains(d.Sentence.String(), c.says) {
			t.Errorf("%s: %s, %q; want %s, %q", c.name, d.Change, d.Sentence, c.change, c.says)
		}
	}
}

// TestLimitsThatMoved: moved ones, and those met within the range that came or
// went; one that never binds is no news.
func TestLimitsThatMoved(t *testing.T) {
	limit := func(name string, mostMM float64, reached bool) drop.Limit {
		return drop.Limit{Name: say.Name(name), MostMM: &mostMM, Reached: reached}
	}
	d := CompareDrop(
		dropped(drop.OK, nil, "", limit("sump", 20, true), limit("ground", 50, true), limit("tank", 80, false), limit("pump", 44, true)),
		dropped(drop.OK, nil, "", limit("sump", 22, true), limit("ground", 50.01, true), limit("pan", 80, false), limit("rod", 31, true)))
	want := []figure{{"sump", "mm", ptr(20), ptr(22)}, {"rod (new)", "mm", nil, ptr(31)}, {"pump (gone)", "mm", ptr(44), nil}}
	if !reflect.DeepEqual(figures(d.Limits), want) {
		t.Errorf("%+v", d.Limits)
	}
	lid := func(leastMM float64) drop.Limit {
		l := limit("lid", 80, false)
		l.WindowsMM = []drop.Window{{leastMM, 80}}
		return l
	}
	d = CompareDrop(dropped(drop.OK, nil, "", lid(9)), dropped(drop.OK, nil, "", lid(21)))
	if want := []figure{{"lid, holds from", "mm", ptr(9), ptr(21)}}; !reflect.DeepEqual(figures(d.Limits), want) {
		t.Errorf("%+v", d.Limits)
	}
}

func seen(share float64, met bool, verdict string, deckMM float64) *rearview.Result {
	r := &rearview.Result{}
	r.Seen.EitherShare = share
	r.Required = rearview.Required{Rule: "the rule", Met: met, Verdict: verdict}
	r.HighestAllowedMM = map[string]rearview.Height{"deck": {NoLossMarginMM: &deckMM}}
	return r
}

func TestWhatTheDriverSees(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, now *rearview.Result
		change   string
		figures  int
	}{
		{"as before", seen(0.9, true, rearview.OK, 5), seen(0.9005, true, rearview.OK, 5.01), Same, 0},
		{"less", seen(0.9, true, rearview.OK, 5), seen(0.89, true, rearview.OK, 4), Worse, 2},
		{"more", seen(0.9, true, rearview.OK, 5), seen(0.95, true, rearview.OK, 5), Better, 1},
		{"not met any more", seen(0.9, true, rearview.OK, 5), seen(0.8, false, rearview.Short, -5), New, 2},
		{"met again", seen(0.8, false, rearview.Short, 5), seen(0.9, true, rearview.OK, 5), Cured, 1},
		{"close now", seen(0.9, true, rearview.OK, 5), seen(0.9, true, rearview.Close, 5), Worse, 0},
	} {
		s := CompareSight(c.old, c.now)
		if s.Change != c.change || len(s.Figures) != c.figures {
			t.Errorf("%s: %s, %+v", c.name, s.Change, s.Figures)
		}
	}
	other := seen(0.9, true, rearview.OK, 5)
	other.Required.Rule = "another"
	if CompareSight(other, seen(0.9, true, rearview.OK, 5)) != nil {
		t.Error("two rules are compared")
	}
	ahead := seen(0.9, true, rearview.OK, 5)
	ahead.Forward = &rearview.Forward{Met: false}
	if s := CompareSight(seen(0.9, true, rearview.OK, 5), ahead); s.Change != New {
		t.Errorf("the view ahead fails, yet %s", s.Change)
	}
}

// TestGateCountsNewAndWorse: nothing else fails, and what is not in both is left
// out.
func TestGateCountsNewAndWorse(t *testing.T) {
	cold, warm, over := hot(60, 130, balance.OK), hot(70, 130, balance.OK), hot(140, 130, balance.Over)
	low := dropped(drop.OK, &drop.Window{0, 20}, "")
	less := dropped(drop.OK, &drop.Window{0, 10}, "")
	for _, c := range []struct {
		old, now Side
		want     []string
		nothing  bool
	}{
		{Side{Heat: cold, Drop: low}, Side{Heat: cold, Drop: low}, nil, true},
		{Side{Heat: cold, Drop: low}, Side{Heat: warm, Drop: low}, nil, false},
		{Side{Heat: cold, Drop: low}, Side{Heat: over, Drop: less}, []string{"drop", "heat"}, false},
		{Side{Heat: over, Drop: less}, Side{Heat: cold, Drop: low}, nil, false},
		{Side{Heat: cold}, Side{Drop: less}, nil, true},
	} {
		r := Compare(c.old, c.now, 0)
		if got := r.Failing(); !reflect.DeepEqual(got, c.want) || r.Fails() != (len(c.want) > 0) || r.Nothing() != c.nothing {
			t.Errorf("failing %v, nothing %v; want %v, %v", got, r.Nothing(), c.want, c.nothing)
		}
	}
}
