package spot

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/thermal/balance"
)

// Of several hundred warm places only a part is measured finely; measured so all
// the same, none of the others is better than the best one, and estimates are
// off by more than they say for few.
func TestBestPlaceIsCertain(t *testing.T) {
	s := stage(t, []block{
		plate(),
		{name: "bar", role: "exhaust", low: geom.Vec{40, 20, 60}, high: geom.Vec{70, 280, 90}, change: func(p *layout.Part) {
			p.Thermal = &layout.Thermal{HeldDegC: new(520.0)}
		}},
		{name: "wall", role: "shield", low: geom.Vec{230, 60, 10.5}, high: geom.Vec{232, 350, 90}},
	}, func(d *layout.Document) {
		d.Heat = &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)}}, Rays: new(256)}
		d.Spots[0].LimitDegC = &layout.Limit{ContinuousDegC: new(125.0)}
	})
	heat, err := balance.Run(t.Context(), s, balance.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	guests, err := clearance.NewGuests(t.Context(), s, 0)
	if err != nil {
		t.Fatal(err)
	}
	st, err := newStudy(s, 0, heat, guests, Options{Seed: 1, PointsPerHost: 600, Most: 3})
	if err != nil {
		t.Fatal(err)
	}
	tried, err := st.try(t.Context(), st.spread().first, firstTurns, stageTicks)
	if err != nil {
		t.Fatal(err)
	}
	if err := st.polish(t.Context(), tried); err != nil {
		t.Fatal(err)
	}
	best := st.best(tried, 1)[0]
	rough, off, verdicts := 0, 0, 0
	for i := range tried {
		one := tried[i]
		if one.reason != "" && one.reason != TooHot || one.rays >= fineRays {
			continue
		}
		rough++
		before := one
		one.reason = ""
		if err := st.heatOf(t.Context(), &one, fineRays); err != nil {
			t.Fatal(err)
		}
		if one.rate(st); one.reason == "" && one.score > best.score+1e-9 {
			t.Errorf("%v has score %.3f, the best %.3f", one.point, one.score, best.score)
		}
		if math.Abs(one.highMarginK-before.highMarginK) > before.errorK {
			off++
		}
		if one.reason != before.reason {
			verdicts++
		}
	}
	if rough < 100 || off > rough/12 || verdicts > rough/20 {
		t.Errorf("%d places without fine rays: %d off by more than said, %d on the other side of the limit", rough, off, verdicts)
	}
}
