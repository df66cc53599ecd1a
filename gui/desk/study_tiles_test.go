package desk

import (
	"testing"

	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

// TestTileOfPlacesTakesTheWorst: the tile's sign is that of the best places, the
// worst of them for several components.
func TestTileOfPlacesTakesTheWorst(t *testing.T) {
	study := func(verdicts ...string) spot.Study {
		s := spot.Study{Name: "coil"}
		for _, v := range verdicts {
			s.Spots = append(s.Spots, spot.Spot{Host: "block", Verdict: v})
		}
		return s
	}
	for _, c := range []struct {
		studies []spot.Study
		want    string
	}{
		{[]spot.Study{study(balance.OK, balance.Close)}, balance.OK},
		{[]spot.Study{study(balance.OK), study(balance.Close, balance.OK)}, balance.Close},
		{[]spot.Study{study(), study(balance.Close)}, "short"},
		{[]spot.Study{study(balance.Close), study()}, "short"},
	} {
		if got := saySpots(&spot.Result{Studies: c.studies})[0].verdict; got != c.want {
			t.Errorf("%d studies: %q, want %q", len(c.studies), got, c.want)
		}
	}
}

// TestTileOfFirstPlacesIsNoVerdict: what is found on the way is dimmed and
// called so, and neither green nor a failure.
func TestTileOfFirstPlacesIsNoVerdict(t *testing.T) {
	for _, c := range []struct {
		spots  []spot.Spot
		answer string
	}{
		{[]spot.Spot{{Host: "block", Verdict: balance.OK}}, "first results: coil: on block"},
		{nil, "first results: coil: no place yet"},
	} {
		r := &spot.Result{Studies: []spot.Study{{Name: "coil", Spots: c.spots}}, Refining: true}
		a := &Answers{}
		a.Spots.Value, a.Spots.Rough, a.Spots.says = r, true, saySpots(r)
		a.Spots.Job = Job{Running: true, Done: 40, Total: 100}
		if got := spotsTile(a); got.Answer != c.answer || got.Verdict != "" || !got.Stale || got.Busy != "refining … 40 %" {
			t.Errorf("%+v", got)
		}
		r.Refining = false
		a.Spots.Rough, a.Spots.Fresh, a.Spots.says, a.Spots.Job = false, true, saySpots(r), Job{}
		if got := spotsTile(a); got.Verdict == "" || got.Stale || got.Busy != "" {
			t.Errorf("at the end: %+v", got)
		}
	}
}
