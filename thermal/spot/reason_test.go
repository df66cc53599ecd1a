package spot

import (
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// Each fixture breaks one rule for every place of the plate's two large faces,
// and passes once that one thing is undone.
func TestEachReasonByItsOwnFixture(t *testing.T) {
	serve := func(at geom.Vec, reachMM float64) func(*layout.Document) {
		return func(d *layout.Document) { d.Spots[0].ServeMM, d.Spots[0].ReachMM = &at, &reachMM }
	}
	least := func(leastMM float64) func(*layout.Document) {
		return func(d *layout.Document) {
			d.Rules = []layout.Rule{{A: "role:coil", B: "role:bracket", LeastMM: leastMM}}
		}
	}
	moving := func(d *layout.Document) {
		d.Rules = []layout.Rule{{A: "role:coil", B: "role:bracket", State: layout.StateMoving, LeastMM: 40}}
		d.Groups = []layout.Group{{Name: "train", Motion: &layout.Motion{ZMM: layout.Range{-8, 8}}}}
	}
	tool := func(d *layout.Document) { d.Spots[0].Tool = &layout.Tool{DiameterMM: 20, LengthMM: 60} }
	ground := func(leastMM float64) func(*layout.Document) {
		return func(d *layout.Document) {
			d.Vehicle = &layout.Vehicle{
				RearAxleMM: geom.Vec{2500, 0, 0}, TyreRadiusMM: 300, GroundZMM: -100,
				Attitudes: []layout.Attitude{{Name: "laden", FrontDownMM: 10, RearDownMM: 10, LeastGroundMM: &leastMM}},
			}
		}
	}
	hot := func(airDegC float64) func(*layout.Document) {
		return func(d *layout.Document) {
			limitDegC := 100.0
			d.Heat = &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: &airDegC}}, Rays: new(64)}
			d.Spots[0].LimitDegC = &layout.Limit{ContinuousDegC: &limitDegC}
		}
	}
	splash := func(heightMM float64) func(*layout.Document) {
		return func(d *layout.Document) {
			d.Vehicle = &layout.Vehicle{RearAxleMM: geom.Vec{2500, 0, 0}, TyreRadiusMM: 300, GroundZMM: -100}
			d.Spots[0].SplashMM = &heightMM
		}
	}
	keep := func(leastMM float64) func(*layout.Document) {
		return func(d *layout.Document) {
			d.Spots[0].KeepFrom = []layout.Keep{{From: "role:bracket", LeastMM: leastMM}}
		}
	}
	notAbove := func(d *layout.Document) { d.Spots[0].NotAbove = []string{"role:filler"} }
	filler := func(fromXMM float64) block {
		return block{name: "filler", role: "filler", low: geom.Vec{fromXMM, -900, -400}, high: geom.Vec{fromXMM + 1800, 900, -390}}
	}
	swing := func(handleMM float64) func(*layout.Document) {
		return func(d *layout.Document) {
			d.Spots[0].Tool = &layout.Tool{DiameterMM: 20, LengthMM: 60, SwingMM: &handleMM}
		}
	}
	alone := []block{plate()}
	with := func(more ...block) []block { return append([]block{plate()}, more...) }
	bar := []block{{name: "plate", role: "engine", high: geom.Vec{400, 20, 20}}}
	held := func(b block) block {
		b.group = "train"
		return b
	}
	for _, c := range []struct {
		reason      string
		bad, good   []block
		badDoc      func(*layout.Document)
		goodDoc     func(*layout.Document)
		explanation string
	}{
		{Buried, with(block{name: "cast", role: "engine", low: geom.Vec{-50, -50, -50}, high: geom.Vec{450, 350, 60}}), alone, nil, nil, "in cast"},
		{NotFlat, bar, alone, nil, nil, "% of the foot"},
		{TooFar, alone, alone, serve(geom.Vec{200, 150, 600}, 500), serve(geom.Vec{200, 150, 600}, 700), "500 allowed"},
		{
			Walled, with(block{name: "wall", role: "firewall", low: geom.Vec{-900, -900, 300}, high: geom.Vec{900, 900, 310}}, block{name: "wall2", role: "firewall", low: geom.Vec{-900, -900, -90}, high: geom.Vec{900, 900, -85}}),
			alone, serve(geom.Vec{200, 150, 600}, 900), serve(geom.Vec{200, 150, 600}, 900), "wall stands between",
		},
		{
			NoLead, with(block{name: "panel", role: "body", low: geom.Vec{-900, -900, 300}, high: geom.Vec{900, 900, 310}}, block{name: "panel2", role: "body", low: geom.Vec{-900, -900, -90}, high: geom.Vec{900, 900, -85}}),
			alone, serve(geom.Vec{200, 150, 600}, 900), serve(geom.Vec{200, 150, 600}, 900), "no way for it within 1125 mm",
		},
		{NoLead, with(screen(200)), with(screen(200)), serve(geom.Vec{200, 150, 400}, 600), serve(geom.Vec{200, 150, 400}, 1000), "mm of lead around what stands in between"},
		{Splashed, alone, alone, splash(250), splash(50), "the splash line lies at 250"},
		{NotKept, append(alone, lids(80)...), append(alone, lids(80)...), keep(90), keep(40), "55.0 mm to"},
		{OverFill, with(filler(-900)), with(filler(450)), notAbove, notAbove, "stands over filler"},
		{NoSwing, append(alone, fence()...), append(alone, fence()...), swing(420), swing(60), "nowhere can the handle turn"},
		{NearGround, alone, alone, ground(120), ground(60), "over the ground, laden"},
		{Overlap, append(alone, lids(20)...), append(alone, lids(80)...), nil, nil, "runs into"},
		{TooClose, append(alone, lids(80)...), append(alone, lids(80)...), least(56), least(54), "55.0 mm to"},
		{TooClose, append([]block{held(plate())}, lids(72)...), append([]block{held(plate())}, lids(74)...), moving, moving, "as the groups move"},
		{NoTool, append(alone, lids(84)...), append(alone, lids(86)...), tool, tool, "in the tool's way"},
		{NoRemoval, append(alone, lids(69)...), append(alone, lids(71)...), nil, nil, "is in the way after 44 mm of 45"},
		{TooHot, alone, alone, hot(120), hot(70), "limit 100 °C in drive"},
	} {
		r := search(t, stage(t, c.bad, c.badDoc), Options{PointsPerHost: 90, Most: 1})
		if len(r.Spots) > 0 {
			t.Errorf("%s: %d spots were found, first %+v", c.reason, len(r.Spots), r.Spots[0])
		}
		told := false
		for _, f := range r.Refused {
			if f.Reason == c.reason && f.Count > 9 {
				told = strings.Contains(f.Example.String(), c.explanation)
			} else if f.Reason != NotFlat && f.Reason != c.reason && !((c.reason == NoLead || c.reason == Walled) && f.Reason == TooFar) {
				t.Errorf("%s: refused for another reason, %+v", c.reason, f)
			}
		}
		if !told {
			t.Errorf("%s: not told as such: %+v", c.reason, r.Refused)
		}
		if !strings.HasPrefix(r.Studies[0].Sentence.String(), "No place for box") {
			t.Errorf("%s: %s", c.reason, r.Studies[0].Sentence)
		}
		r = search(t, stage(t, c.good, c.goodDoc), Options{PointsPerHost: 90, Most: 1})
		if len(r.Spots) == 0 {
			t.Errorf("%s: undone, yet no spots: %+v", c.reason, r.Refused)
		}
	}
}

// screen is a wall over the plate that ends so far beyond its edges.
func screen(beyondMM float64) block {
	return block{name: "screen", role: "shield", low: geom.Vec{-beyondMM, -beyondMM, 200}, high: geom.Vec{400 + beyondMM, 300 + beyondMM, 202}}
}

// fence is four walls around the plate.
func fence() []block {
	post := func(name string, low, high geom.Vec) block {
		return block{name: name, role: "bracket", low: low, high: high}
	}
	return []block{
		post("fence front", geom.Vec{-20, -20, -200}, geom.Vec{-10, 320, 200}),
		post("fence rear", geom.Vec{410, -20, -200}, geom.Vec{420, 320, 200}),
		post("fence left", geom.Vec{-20, -20, -200}, geom.Vec{420, -10, 200}),
		post("fence right", geom.Vec{-20, 310, -200}, geom.Vec{420, 320, 200}),
	}
}

// A tool of 45 mm passes a gap of 45 mm and is stopped by one of 44.9 mm.
func TestToolNeedsItsDiameter(t *testing.T) {
	for _, c := range []struct {
		gapMM  float64
		passes bool
	}{{45, true}, {44.9, false}} {
		s := stage(t, []block{
			plate(),
			{name: "left", role: "bracket", low: geom.Vec{150, 50, 60}, high: geom.Vec{200 - c.gapMM/2, 250, 80}},
			{name: "right", role: "bracket", low: geom.Vec{200 + c.gapMM/2, 50, 60}, high: geom.Vec{250, 250, 80}},
		}, func(d *layout.Document) { d.Spots[0].Tool = &layout.Tool{DiameterMM: 45, LengthMM: 150} })
		one := trial{place: onTop(200, 150)}
		one.pose = poseAt(one.place, 0, firstTurns)
		if err := studyOf(t, s, nil).tooled(t.Context(), &one, &turned{}); err != nil {
			t.Fatal(err)
		}
		if passes := one.reason == ""; passes != c.passes {
			t.Errorf("gap %g mm: passes %v, %s", c.gapMM, passes, one.detail)
		}
	}
}

// A deck is open in service and a sightline is no matter: neither stops the
// hand, though the component must not stand in them.
func TestOpenDeckLetsTheToolIn(t *testing.T) {
	blocks := append([]block{plate()}, lids(40)...)
	blocks[1].role, blocks[2].role = "deck", "deck"
	if r := search(t, stage(t, blocks, nil), Options{}); len(r.Spots) == 0 {
		t.Errorf("refused: %+v", r.Refused)
	}
}
