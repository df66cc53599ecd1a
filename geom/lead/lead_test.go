package lead

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

func body(m *mesh.Mesh, keepMM float64) Body {
	return Body{Tree: bvh.Build(m), Pose: geom.Identity(), Box: m.Box(), Closed: true, KeepMM: keepMM}
}

func brick(low, high geom.Vec, keepMM float64) Body { return body(plain.Brick(low, high), keepMM) }

func fieldOf(t testing.TB, bodies []Body, serve geom.Vec, mostMM float64, o Options) *Field {
	t.Helper()
	f, err := New(t.Context(), bodies, serve, mostMM, o)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// overMM is the taut length over two edges in one line of sight: both ends
// stand deepMM below them and asideMM beside the wall; a lead of radius keepMM
// leaves in a tangent, lies around each edge and runs along the top. Plane
// geometry.
func overMM(asideMM, deepMM, thickMM, keepMM float64) float64 {
	farMM := math.Hypot(asideMM, deepMM)
	tangentMM := math.Sqrt(farMM*farMM - keepMM*keepMM)
	// The tangent's angle above level, then an arc down to level.
	upRad := math.Atan2(deepMM, asideMM) + math.Asin(keepMM/farMM)
	return 2*tangentMM + 2*keepMM*upRad + thickMM
}

func TestWayOverAWallIsTheKnownPolyline(t *testing.T) {
	for _, c := range []struct{ asideMM, deepMM, thickMM, keepMM float64 }{
		{120, 90, 10, 0.5},
		{120, 90, 10, 5},
		{60, 150, 40, 3},
		{200, 40, 2, 8},
	} {
		wall := brick(geom.Vec{0, -2000, -2000}, geom.Vec{c.thickMM, 2000, 0}, c.keepMM)
		serve := geom.Vec{c.thickMM + c.asideMM, 10, -c.deepMM}
		from := geom.Vec{-c.asideMM, 10, -c.deepMM}
		f := fieldOf(t, []Body{wall}, serve, 600, Options{})
		r, ok := f.Route(Start{Point: from}, 0)
		if !ok {
			t.Fatalf("%+v: no way", c)
		}
		wantMM := overMM(c.asideMM, c.deepMM, c.thickMM, c.keepMM)
		// Corners lie outside the arcs, a split corner by a few hundredths of
		// the radius; sliding stops within clearMM.
		if r.LengthMM < wantMM-0.01 || r.LengthMM > wantMM+0.3+0.03*c.keepMM {
			t.Errorf("%+v: %.3f mm, want %.3f: %v", c, r.LengthMM, wantMM, r.Points)
		}
	}
}

// Around the corner of a room, from one face of a big box to the next, with a
// slanted way: unfolding the faces makes it straight.
func TestWayAroundAnEdgeUnfolds(t *testing.T) {
	box := brick(geom.Vec{0, 0, 0}, geom.Vec{1000, 1000, 1000}, 0.05)
	serve, from := geom.Vec{-0.1, 150, 600}, geom.Vec{130, -0.1, 400}
	f := fieldOf(t, []Body{box}, serve, 500, Options{})
	r, ok := f.Route(Start{Point: from}, 0)
	wantMM := math.Hypot(280, 200)                // both faces laid flat
	if !ok || math.Abs(r.LengthMM-wantMM) > 0.5 { // the ends stand off the faces, sliding stops a tenth short
		t.Errorf("%v %.3f mm, want %.3f: %v", ok, r.LengthMM, wantMM, r.Points)
	}
}

func TestStraightWhereNothingStands(t *testing.T) {
	far := brick(geom.Vec{0, 300, 0}, geom.Vec{10, 310, 10}, 5)
	f := fieldOf(t, []Body{far}, geom.Vec{200, 0, 0}, 400, Options{})
	r, ok := f.Route(Start{Point: geom.Vec{-100, 0, 0}}, 30)
	if !ok || len(r.Points) != 2 || math.Abs(r.LengthMM-300) > 1e-9 || r.TurnRad != 0 {
		t.Errorf("%v %+v", ok, r)
	}
	if _, _, ok := f.Way(Start{Point: geom.Vec{-500, 0, 0}}, 0); ok {
		t.Error("a way beyond the reach")
	}
}

// A hole lets a lead through that is thinner, and none that is thicker.
func TestHoleLetsAThinLeadThrough(t *testing.T) {
	for _, keepMM := range []float64{19, 21} {
		f := fieldOf(t, []Body{
			brick(geom.Vec{0, -900, -900}, geom.Vec{5, -20, 900}, keepMM),
			brick(geom.Vec{0, 20, -900}, geom.Vec{5, 900, 900}, keepMM),
		}, geom.Vec{150, 0, 3}, 500, Options{})
		r, ok := f.Route(Start{Point: geom.Vec{-150, 0, 3}}, 0)
		if through := ok && r.LengthMM < 301; through != (keepMM < 20) {
			t.Errorf("radius %g through a slot of 40: %v, %+v", keepMM, through, r)
		}
	}
}

// A hot body is kept away from by its own distance.
func TestHotBodyIsKeptAwayFrom(t *testing.T) {
	pipe := brick(geom.Vec{-10, -10, -1000}, geom.Vec{10, 10, 1000}, 60)
	f := fieldOf(t, []Body{pipe}, geom.Vec{200, 0, 0}, 600, Options{})
	r, ok := f.Route(Start{Point: geom.Vec{-200, 0, 0}}, 0)
	// Around one side: tangents and arcs of 60 mm about two edges.
	wantMM := overMM(190, 10, 20, 60)
	if !ok || r.LengthMM < wantMM-0.01 || r.LengthMM > wantMM+2.5 {
		t.Errorf("%v, %.2f mm, want %.2f: %v", ok, r.LengthMM, wantMM, r.Points)
	}
	leastMM := math.Inf(1)
	for i := 1; i < len(r.Points); i++ {
		leastMM = math.Min(leastMM, lineGapMM(t, pipe, r.Points[i-1], r.Points[i]))
	}
	if leastMM < 60-clearMM {
		t.Errorf("%.3f mm from the pipe", leastMM)
	}
}

// lineGapMM is the distance of a line from a body, by the triangle kernels.
func lineGapMM(t testing.TB, b Body, from, to geom.Vec) float64 {
	line := &mesh.Mesh{Verts: []geom.Vec{from, to, to}, Tris: [][3]int32{{0, 1, 2}}}
	r, err := dist.Between(context.Background(), dist.Body{Tree: bvh.Build(line), Pose: geom.Identity()}, dist.Body{Tree: b.Tree, Pose: b.Pose}, dist.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.GapMM
}

// Bends of a radius around the edge of a screen: two legs and one arc that
// touches where the corner was.
func TestBendsAreRounded(t *testing.T) {
	const bendMM, keepMM = 40, 2
	wall := brick(geom.Vec{0, -2000, -2000}, geom.Vec{0.5, 2000, 0}, keepMM)
	f := fieldOf(t, []Body{wall}, geom.Vec{200, 0, -150}, 700, Options{})
	s := Start{Point: geom.Vec{-200, 0, -150}}
	sharp, _ := f.Route(s, 0)
	r, ok := f.Route(s, bendMM)
	if !ok || r.BendMM < bendMM {
		t.Fatalf("%v %+v", ok, r)
	}
	// The arc replaces the touch of the edge: longer than the taut way, by less
	// than the bulge would add on both legs.
	if r.LengthMM < sharp.LengthMM || r.LengthMM > sharp.LengthMM+25 {
		t.Errorf("%.2f mm with bends, %.2f without", r.LengthMM, sharp.LengthMM)
	}
	for i := 1; i < len(r.Points); i++ {
		if gapMM := lineGapMM(t, wall, r.Points[i-1], r.Points[i]); gapMM < keepMM-clearMM {
			t.Errorf("leg %d is %.2f mm from the wall", i, gapMM)
		}
	}
}

// Two near corners leave no room for a wide bend: the widest that fits is told.
func TestTooTightBendsAreTold(t *testing.T) {
	r := measured([]geom.Vec{{0, 0, 0}, {100, 0, 0}, {100, 60, 0}, {200, 60, 0}}, 80)
	if math.Abs(r.BendMM-30) > 0.1 { // two square corners share a leg of 60
		t.Errorf("%+v", r)
	}
}

// A taut way hugs the edges of a wall, too near each other for wide bends; a
// lead that swings out further has them, and stays clear and within its reach.
func TestWideBendsSwingOut(t *testing.T) {
	const keepMM = 3
	for _, c := range []struct{ asideMM, deepMM, thickMM, bendMM float64 }{
		{90, 150, 40, 60},
		{90, 150, 40, 80},
		{70, 200, 60, 60},
		{120, 120, 20, 90},
	} {
		wall := brick(geom.Vec{0, -2000, -2000}, geom.Vec{c.thickMM, 2000, 0}, keepMM)
		f := fieldOf(t, []Body{wall}, geom.Vec{c.thickMM + c.asideMM, 10, -c.deepMM}, 800, Options{})
		r, ok := f.Route(Start{Point: geom.Vec{-c.asideMM, 10, -c.deepMM}}, c.bendMM)
		if !ok || r.BendMM < c.bendMM {
			t.Errorf("%+v: %v, bends of %.1f mm: %v", c, ok, r.BendMM, r.Points)
		}
		// A way that goes straight up, over in two square bends and down again is
		// always there.
		squareMM := 2*(c.deepMM+c.bendMM) + math.Max(2*c.asideMM+c.thickMM, 2*c.bendMM) - (4-math.Pi)*c.bendMM
		if r.LengthMM > 1.05*squareMM {
			t.Errorf("%+v: %.1f mm, %.1f by two square bends", c, r.LengthMM, squareMM)
		}
		for i := 1; i < len(r.Points); i++ {
			if gapMM := lineGapMM(t, wall, r.Points[i-1], r.Points[i]); gapMM < keepMM-clearMM {
				t.Errorf("%+v: leg %d is %.3f mm from the wall", c, i, gapMM)
			}
		}
	}
}

// The served point of a plug lies in its well: the lead goes straight out.
func TestBuriedPointIsLedOut(t *testing.T) {
	head := brick(geom.Vec{0, 0, 0}, geom.Vec{200, 200, 100}, 3)
	f := fieldOf(t, []Body{head}, geom.Vec{100, 100, 70}, 400, Options{})
	exit, insideMM := f.Exit()
	if math.Abs(insideMM-33) > 0.3 || exit[2] < 103 {
		t.Errorf("out at %v after %.2f mm, want 33 upwards", exit, insideMM)
	}
	r, ok := f.Route(Start{Point: geom.Vec{100, 100, 250}}, 0)
	if !ok || math.Abs(r.LengthMM-180) > 0.5 {
		t.Errorf("%v %+v", ok, r)
	}
	if _, err := New(t.Context(), []Body{brick(geom.Vec{-2000, -2000, -2000}, geom.Vec{2000, 2000, 2000}, 3)}, geom.Vec{}, 900, Options{}); !errors.Is(err, ErrBuried) {
		t.Errorf("deep inside: %v", err)
	}
}

// Among random boxes: no way passes through one or nearer than it should, none
// is shorter than the straight line, and a coarser grid finds ways of about the
// same length.
func TestRandomBoxes(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 0))
	for range 2 {
		var bodies []Body
		for range 25 {
			low := geom.Vec{random.Float64()*400 - 200, random.Float64()*400 - 200, random.Float64()*400 - 200}
			size := geom.Vec{10 + random.Float64()*120, 10 + random.Float64()*120, 10 + random.Float64()*60}
			if low.Add(size.Mul(0.5)).Len() < 120 {
				continue
			}
			bodies = append(bodies, brick(low, low.Add(size), 3))
		}
		fine := fieldOf(t, bodies, geom.Vec{}, 420, Options{CellMM: 12})
		coarse := fieldOf(t, bodies, geom.Vec{}, 420, Options{})
		for range 8 {
			s := Start{Point: geom.Vec{random.Float64()*500 - 250, random.Float64()*500 - 250, random.Float64()*500 - 250}}
			if fine.bay.within(s.Point) >= 0 {
				continue
			}
			if m, _ := fine.bay.room(s.Point, 5); m < 0 {
				continue
			}
			r, ok := coarse.Route(s, 0)
			if !ok {
				continue
			}
			if r.LengthMM < s.Point.Len()-1e-9 {
				t.Errorf("%.3f mm for a straight %.3f", r.LengthMM, s.Point.Len())
			}
			for i := 1; i < len(r.Points); i++ {
				for k := range bodies {
					if gapMM := lineGapMM(t, bodies[k], r.Points[i-1], r.Points[i]); gapMM < 3-clearMM {
						t.Errorf("leg %d is %.3f mm from box %d", i, gapMM, k)
					}
				}
			}
			if better, ok := fine.Route(s, 0); !ok || better.LengthMM < 0.9*r.LengthMM {
				t.Errorf("fine %v %.1f mm, coarse %.1f", ok, better.LengthMM, r.LengthMM)
			}
		}
	}
}

func TestSameWaysForAnyWorkers(t *testing.T) {
	bodies := []Body{brick(geom.Vec{0, -300, -300}, geom.Vec{8, 300, 40}, 3), brick(geom.Vec{-60, -300, 70}, geom.Vec{90, 200, 80}, 12)}
	var first []geom.Vec
	for _, workers := range []int{1, 2, 7} {
		f := fieldOf(t, bodies, geom.Vec{150, 0, 0}, 500, Options{Workers: workers})
		r, ok := f.Route(Start{Point: geom.Vec{-100, 20, 0}}, 25)
		if !ok {
			t.Fatal("no way")
		}
		if first == nil {
			first = r.Points
		}
		if !slices.Equal(first, r.Points) {
			t.Errorf("%d workers: %v, not %v", workers, r.Points, first)
		}
	}
}

// A lead does not run through its own component.
func TestOwnComponentStandsInTheWay(t *testing.T) {
	own := plain.Brick(geom.Vec{-20, -20, 0}, geom.Vec{20, 20, 40})
	s := Start{Point: geom.Vec{20, 0, 20}, Own: bvh.Build(own), Pose: geom.Identity(), FreeMM: 5}
	f := fieldOf(t, nil, geom.Vec{-200, 0, 20}, 500, Options{})
	r, ok := f.Route(s, 0)
	if !ok || r.LengthMM < 240 {
		t.Errorf("%v, %.1f mm straight through: %v", ok, r.LengthMM, r.Points)
	}
}

func TestCancelledSearchIsAnError(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if f, err := New(ctx, nil, geom.Vec{}, 300, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v %v", f, err)
	}
}

func BenchmarkNew(b *testing.B) {
	random := rand.New(rand.NewPCG(7, 0))
	var bodies []Body
	for range 100 {
		low := geom.Vec{random.Float64()*1000 - 500, random.Float64()*1000 - 500, random.Float64()*1000 - 500}
		if low.Len() > 150 {
			bodies = append(bodies, brick(low, low.Add(geom.Vec{80, 60, 40}), 3))
		}
	}
	for b.Loop() {
		if _, err := New(b.Context(), bodies, geom.Vec{}, 450, Options{Workers: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
