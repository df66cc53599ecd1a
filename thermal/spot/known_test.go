package spot

import (
	"math"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// held is a block kept at a temperature, black so that nothing is reflected.
func held(b block, heldDegC float64) block {
	b.change = func(p *layout.Part) {
		one := 1.0
		p.Thermal, p.Emissivity = &layout.Thermal{HeldDegC: &heldDegC}, &one
	}
	return b
}

// oneCase makes a heat study of one standing case.
func oneCase(d *layout.Document) {
	d.Heat = &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)}}, Rays: new(512)}
}

// A hot bar over the rear half of a plate: what is too hot lies under it, the
// places found lie in the other half, and the best one is far from the bar.
func TestHotBarOverHalfAPlate(t *testing.T) {
	s := stage(t, []block{
		held(plate(), 80),
		held(block{name: "bar", role: "exhaust", low: geom.Vec{240, 0, 60}, high: geom.Vec{400, 300, 80}}, 700),
		{name: "floor", role: "bracket", low: geom.Vec{0, 0, -10}, high: geom.Vec{400, 300, -5}},
	}, func(d *layout.Document) {
		oneCase(d)
		d.Rules = []layout.Rule{{A: "*", B: "*", LeastMM: 0}, {A: "role:coil", B: "role:exhaust", State: layout.StateHot, LeastMM: 0}}
		d.Spots[0].LimitDegC = &layout.Limit{ContinuousDegC: new(140.0)}
	})
	a := search(t, s, Options{PointsPerHost: 80}).Studies[0]
	if len(a.Spots) == 0 {
		t.Fatalf("no place: %s", a.Sentence)
	}
	for _, one := range a.Spots {
		if one.PointMM[0] > 220 || one.Side != "top" {
			t.Errorf("place %d: %s", one.Rank, one.Sentence)
		}
	}
	if x := a.Spots[0].PointMM[0]; x > 60 {
		t.Errorf("the best place stands at x = %.0f, nearer to the bar than others", x)
	}
	under := 0
	for _, one := range a.Tried {
		if one.Reason == TooHot {
			if one.PointMM[0] < 60 {
				t.Errorf("too hot far from the bar, at %v", one.PointMM)
			}
			under++
		}
	}
	if under < 10 {
		t.Errorf("only %d places are too hot", under)
	}
	if got := a.Changes[0]; got.Opens == 0 || got.Reason != TooHot {
		t.Errorf("what would help: %+v", a.Changes)
	}
}

// toRectangle is the view factor from a small spot to a parallel rectangle at a
// distance of 1 whose corner stands over it.
//
// Source: differential planar element to a parallel finite rectangle, normal
// through a corner (Howell, configuration factors, B-3; the formula from memory,
// its limit for a large rectangle is 1/4).
func toRectangle(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	rx, ry := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/rx*math.Atan(y/rx) + y/ry*math.Atan(x/ry)) / (2 * math.Pi)
}

// A sheet hides one half of a hot square from the spot right under its edge. Off
// the edge the hidden part follows from the line of sight over the edge.
func TestShadowEdgeFollowsTheViewFactor(t *testing.T) {
	const highMM, halfMM, sheetMM = 200.0, 150.0, 100.0
	stageOf := func(shaded bool) (*scene.Scene, *balance.Result) {
		blocks := []block{
			held(block{name: "plate", role: "engine", low: geom.Vec{-300, -300, -10}, high: geom.Vec{300, 300, 0}}, 60),
			held(block{name: "square", role: "exhaust", low: geom.Vec{-halfMM, -halfMM, highMM}, high: geom.Vec{halfMM, halfMM, highMM + 1}}, 700),
		}
		if shaded {
			blocks = append(blocks, held(block{name: "sheet", role: "shield", low: geom.Vec{0, -1000, sheetMM}, high: geom.Vec{1000, 1000, sheetMM + 0.01}}, 60))
		}
		s := stage(t, blocks, oneCase)
		s.Spots[0].Mesh = boxMesh(geom.Vec{-10, -10, 0}, geom.Vec{10, 10, 0.3}) // all but flat
		heat, err := balance.Run(t.Context(), s, balance.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return s, heat
	}
	shareAt := func(s *scene.Scene, heat *balance.Result, xMM float64) float64 {
		st := studyOf(t, s, heat)
		one := trial{place: place{host: 0, point: geom.Vec{xMM, 0, 0}, normal: geom.Vec{0, 0, 1}}}
		one.pose = poseAt(one.place, 0, firstTurns)
		view, err := heat.Look(st.receiver(&one, 4096))
		if err != nil {
			t.Fatal(err)
		}
		ph, err := heat.Receive(t.Context(), 0, view)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(ph.From, func(f balance.Share) bool { return f.Part == "square" })
		return ph.From[i].Share * ph.Irradiation.MeanWM2
	}
	openS, openHeat := stageOf(false)
	shadedS, shadedHeat := stageOf(true)
	// Bare numbers: in heights of the square over the plate.
	strip := func(from, to float64) float64 { // both halves of y
		signed := func(x float64) float64 { return math.Copysign(toRectangle(x, halfMM/highMM), x) }
		return 2 * (signed(to) - signed(from))
	}
	for _, xMM := range []float64{-60, -20, 0, 20, 50} {
		left, right := (-halfMM-xMM)/highMM, (halfMM-xMM)/highMM
		edge := -xMM / sheetMM // where the line of sight over the edge meets the square
		want := strip(left, math.Max(left, math.Min(right, edge))) / strip(left, right)
		got := shareAt(shadedS, shadedHeat, xMM) / shareAt(openS, openHeat, xMM)
		// 4096 rays on some patches, and the spot is 20 mm wide.
		if math.Abs(got-want) > 0.03 {
			t.Errorf("x = %g: %.3f of the square is in sight, want %.3f", xMM, got, want)
		}
	}
}

// The lead of a place behind a wall has the length of the taut line over it.
func TestLeadOverAWallHasTheKnownLength(t *testing.T) {
	const asideMM, thickMM = 100.0, 10.0
	s := stage(t, []block{
		{name: "plate", role: "engine", low: geom.Vec{-3000, -3000, -10}, high: geom.Vec{3000, 3000, 0}},
		{name: "wall", role: "shield", low: geom.Vec{asideMM, -3000, 0}, high: geom.Vec{asideMM + thickMM, 3000, 160}},
	}, func(d *layout.Document) {
		d.Spots[0].ServeMM = &geom.Vec{2*asideMM + thickMM, 0, heightMM}
		d.Spots[0].ReachMM = new(600.0)
		d.Spots[0].Lead = &layout.Lead{DiameterMM: new(1.0)}
	})
	st := studyOf(t, s, nil)
	one := trial{place: place{host: 0, normal: geom.Vec{0, 0, 1}}}
	one.pose = poseAt(one.place, 0, firstTurns)
	st.leads(&one)
	if one.reason != "" {
		t.Fatal(one.detail)
	}
	one.told = true // only then is its lead pulled taut in any case
	if err := st.finish(t.Context(), &one); err != nil {
		t.Fatal(err)
	}
	// From the top of the component, heightMM up: plane geometry around two
	// edges with the lead's radius of 0.5 mm, which adds less than 1 mm.
	wantMM := 2*math.Hypot(asideMM, 160-heightMM) + thickMM
	if gotMM := *one.reachMM; gotMM < wantMM || gotMM > wantMM+1.5 {
		t.Errorf("%.2f mm, want %.2f and at most 1.5 more: %v", gotMM, wantMM, one.way)
	}
}

// A component comes off the way that is given: under a lid only sideways.
func TestPullInAGivenDirection(t *testing.T) {
	blocks := append([]block{plate()}, lids(40)...)
	for _, c := range []struct {
		pull  *geom.Vec
		found bool
	}{{nil, false}, {&geom.Vec{0, 0, 1}, false}, {&geom.Vec{1, 0, 0}, true}, {&geom.Vec{0, -2, 0}, true}} {
		r := search(t, stage(t, blocks, func(d *layout.Document) { d.Spots[0].Pull = c.pull }), Options{PointsPerHost: 60})
		if found := len(r.Spots) > 0; found != c.found {
			t.Errorf("pull %v: %d places, %+v", c.pull, len(r.Spots), r.Refused)
		}
	}
}

// The best place of the search is as good as the best of a fine grid, in every
// turn, to within what a grid step is worth.
func TestSearchMeetsBruteForce(t *testing.T) {
	blocks := []block{
		plate(),
		{name: "post", role: "bracket", low: geom.Vec{120, 90, 10}, high: geom.Vec{160, 130, 120}},
		{name: "tall", role: "bracket", low: geom.Vec{280, -60, 10.5}, high: geom.Vec{300, 200, 120}},
		{name: "bar", role: "bracket", low: geom.Vec{-50, 220, 10.5}, high: geom.Vec{210, 240, 90}},
		{name: "floor", role: "bracket", low: geom.Vec{0, 0, -20}, high: geom.Vec{400, 300, -15}},
	}
	s := stage(t, blocks, func(d *layout.Document) {
		d.Rules = []layout.Rule{{A: "role:coil", B: "role:bracket", LeastMM: 10}}
	})
	st := studyOf(t, s, nil)
	best, scored := math.Inf(-1), 0
	for x := 6.0; x < 400; x += 12 {
		for y := 6.0; y < 300; y += 12 {
			turns, err := st.stand(t.Context(), onTop(x, y), fineTurns)
			if err != nil {
				t.Fatal(err)
			}
			one, err := st.choose(t.Context(), turns)
			if err != nil {
				t.Fatal(err)
			}
			if one.rate(st); one.reason == "" {
				best, scored = math.Max(best, one.score), scored+1
			}
		}
	}
	if scored < 20 {
		t.Fatalf("%d places on the grid", scored)
	}
	got := search(t, s, Options{PointsPerHost: 400}).Spots[0].Score
	// A grid step of 12 mm moves the margin by at most 6·√2 mm: 1.4 of score.
	if got < best-0.3 {
		t.Errorf("best score %.3f, the grid has %.3f", got, best)
	}
}

// movedBy returns a task with the whole layout moved.
func movedBy(by geom.Pose, task func(*layout.Document)) func(*layout.Document) {
	return func(d *layout.Document) {
		task(d)
		for i := range d.Parts {
			p := &d.Parts[i]
			pose := by.After(scene.PoseOf(p))
			p.MoveMM, p.TurnDeg = pose.T, turnOf(pose.R)
		}
		if serve := d.Spots[0].ServeMM; serve != nil {
			d.Spots[0].ServeMM = new(by.Point(*serve))
		}
	}
}

// slopedStage is a plate and a slope as hosts, with a post and a floor; hot
// makes the post hot and adds a lead.
func slopedStage(hot bool) ([]block, func(*layout.Document)) {
	blocks := []block{
		plate(),
		{name: "post", role: "bracket", low: geom.Vec{120, 90, 10.5}, high: geom.Vec{160, 130, 120}},
		{name: "floor", role: "bracket", low: geom.Vec{0, 0, -20}, high: geom.Vec{400, 300, -15}},
		{name: "slope", role: "engine", high: geom.Vec{200, 150, 30}, change: func(p *layout.Part) {
			p.TurnDeg, p.MoveMM = geom.Vec{30, -20, 10}, geom.Vec{500, 0, 40}
		}},
	}
	if hot {
		blocks[1].change = func(p *layout.Part) { p.Thermal = &layout.Thermal{HeldDegC: new(420.0)} }
	}
	return blocks, func(d *layout.Document) {
		d.Rules = []layout.Rule{{A: "role:coil", B: "role:bracket", LeastMM: 8}}
		d.Spots[0].Hosts = []string{"part:plate", "part:slope"}
		if hot {
			d.Heat = &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)}}, Rays: new(128)}
			d.Spots[0].ServeMM, d.Spots[0].ReachMM = &geom.Vec{140, 60, 12}, new(420.0)
			d.Spots[0].LimitDegC = &layout.Limit{ContinuousDegC: new(85.0)}
		}
	}
}

// Turned about the vertical and moved as a whole, a layout has its places where
// they were.
func TestPlacesMoveWithTheLayout(t *testing.T) {
	by := scene.PoseOf(&layout.Part{TurnDeg: geom.Vec{0, 0, 37}, MoveMM: geom.Vec{1234, -567, 89}})
	blocks, task := slopedStage(false)
	one, two := search(t, stage(t, blocks, task), Options{PointsPerHost: 80}), search(t, stage(t, blocks, movedBy(by, task)), Options{PointsPerHost: 80})
	if len(one.Spots) == 0 || len(one.Spots) != len(two.Spots) {
		t.Fatalf("%d places and %d", len(one.Spots), len(two.Spots))
	}
	for i := range one.Spots {
		a, b := &one.Spots[i], &two.Spots[i]
		if d := by.Point(a.PointMM).Sub(b.PointMM).Len(); a.Host != b.Host || d > 1e-4 || math.Abs(a.Score-b.Score) > 1e-6 {
			t.Errorf("place %d: %v of score %g and %v of %g", a.Rank, by.Point(a.PointMM), a.Score, b.PointMM, b.Score)
		}
	}
}

// With heat and leads as well: nearly all candidates keep their verdict, and the
// best place its figures. Only moved, a few rays that graze an edge fall to its
// other side; turned as well, all rays fall elsewhere and the cells of the leads
// lie otherwise: 256 rays a patch tell a temperature to some kelvin, cells a
// length to a few percent, together under a fifth of a unit of score.
func TestHeatAndLeadsMoveWithTheLayout(t *testing.T) {
	blocks, task := slopedStage(true)
	a := search(t, stage(t, blocks, task), Options{PointsPerHost: 80, Most: 2}).Studies[0]
	for _, c := range []struct{ turnDeg, atMost float64 }{{0, 0.02}, {37, 0.2}} {
		by := scene.PoseOf(&layout.Part{TurnDeg: geom.Vec{0, 0, c.turnDeg}, MoveMM: geom.Vec{1234, -567, 89}})
		b := search(t, stage(t, blocks, movedBy(by, task)), Options{PointsPerHost: 80, Most: 2}).Studies[0]
		same, asked := 0, 0
		reasons := map[string]int{}
		for i := range min(len(a.Tried), len(b.Tried)) {
			// The even round is the same; the refined ones follow from it.
			if by.Point(a.Tried[i].PointMM).Sub(b.Tried[i].PointMM).Len() > 1e-4 {
				break
			}
			asked++
			if a.Tried[i].Reason == b.Tried[i].Reason {
				same++
			}
			reasons[a.Tried[i].Reason]++
		}
		if asked < 100 || reasons[TooHot] < 5 || reasons[TooFar]+reasons[NoLead] < 5 || float64(same) < 0.96*float64(asked) {
			t.Errorf("turned by %g°: %d of %d candidates keep their verdict: %v", c.turnDeg, same, asked, reasons)
		}
		if math.Abs(a.Spots[0].Score-b.Spots[0].Score) > c.atMost {
			t.Errorf("turned by %g°: best place of score %.3f, was %.3f", c.turnDeg, b.Spots[0].Score, a.Spots[0].Score)
		}
	}
}

// told checks that all that is asked of a place stands in its sentence: side,
// host, lead, temperatures, nearest part.
func told(t *testing.T, s *Spot) {
	t.Helper()
	for _, part := range []string{" of plate, ", " mm lead, ", " °C in ", " mm clear of "} {
		if !strings.Contains(s.Sentence.String(), part) {
			t.Errorf("no %q in %q", part, s.Sentence)
		}
	}
}

func TestSidesHaveNames(t *testing.T) {
	for normal, want := range map[geom.Vec]string{
		{0, -1, 0.2}: "left side", {0, 1, 0}: "right side", {-1, 0, 0}: "front", {0.9, 0.1, 0}: "rear", {0, 0, -1}: "underside", {0.5, 0, 0.6}: "top",
	} {
		if got := sideOf(normal); got != want {
			t.Errorf("%v is %s, not %s", normal, got, want)
		}
	}
}
