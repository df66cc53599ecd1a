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
