package spot

import (
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/thermal/balance"
)

// A hot bar across the plate, and a wall on one of its sides: the same distance
// away, a place behind the wall is cooler than one in sight; in sight, farther
// is cooler.
func TestSightAndDistanceRankTheHeat(t *testing.T) {
	s := stage(t, []block{
		plate(),
		{name: "bar", role: "exhaust", low: geom.Vec{190, 0, 40}, high: geom.Vec{210, 300, 60}, change: func(p *layout.Part) {
			p.Thermal = &layout.Thermal{HeldDegC: new(700.0)}
		}},
		{name: "wall", role: "shield", low: geom.Vec{260, -50, 10.5}, high: geom.Vec{262, 350, 150}},
	}, func(d *layout.Document) {
		d.Heat = &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)}}, Rays: new(512)}
	})
	heat, err := balance.Run(t.Context(), s, balance.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	st := studyOf(t, s, heat)
	at := func(xMM float64) float64 {
		one := trial{place: onTop(xMM, 150)}
		one.pose = poseAt(one.place, 0, firstTurns)
		if err := st.heatOf(t.Context(), &one, fineRays); err != nil {
			t.Fatal(err)
		}
		return one.cases[0].Temperature.NominalDegC
	}
	nearDegC, farDegC, hiddenDegC := at(110), at(60), at(290)
	if !(nearDegC > farDegC+10) {
		t.Errorf("90 mm away %.1f °C, 140 mm away %.1f °C", nearDegC, farDegC)
	}
	if !(hiddenDegC < nearDegC-20 && hiddenDegC < farDegC) {
		t.Errorf("90 mm away in sight %.1f °C, behind the wall %.1f °C", nearDegC, hiddenDegC)
	}
}

// The component's mount leads to the host it stands on: a cold host cools it.
func TestMountLeadsToTheHost(t *testing.T) {
	for _, hostDegC := range []float64{20, 120} {
		s := stage(t, []block{{name: "plate", role: "engine", high: geom.Vec{400, 300, 10}, change: func(p *layout.Part) {
			p.Thermal = &layout.Thermal{HeldDegC: &hostDegC}
		}}}, func(d *layout.Document) {
			d.Heat = &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0)}}, Rays: new(64)}
			// A mount far stronger than any other path.
			d.Spots[0].Thermal = &layout.Thermal{Mount: &layout.Mount{To: "plate", WK: 1000}}
		})
		r := search(t, s, Options{PointsPerHost: 30})
		if got := r.Spots[0].Temperature.NominalDegC; got < hostDegC-0.5 || got > hostDegC+0.5 {
			t.Errorf("on a host of %g °C: %.2f °C", hostDegC, got)
		}
	}
}
