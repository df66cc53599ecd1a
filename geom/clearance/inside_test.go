package clearance

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
	"aftbay/geom/sweep"
)

// TestInsideWithoutTouching: a cube that stands beside a box in one named position
// and wholly inside it in another. No surface is ever touched, and the position
// beside is the nearer one by far; still it is an overlap.
func TestInsideWithoutTouching(t *testing.T) {
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "cube", Role: "x", Mesh: "cube.stl", Group: "g"}, {Name: "box", Role: "y", Mesh: "box.stl"},
		},
		Groups: []layout.Group{{Name: "g"}},
		Rules:  []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 5}},
	}
	s := fixture.Scene(t, doc, map[string]*mesh.Mesh{
		"cube.stl": plain.Brick(geom.Vec{61, -5, -5}, geom.Vec{71, 5, 5}), // 11 mm beside the box
		"box.stl":  plain.Brick(geom.Vec{-50, -50, -50}, geom.Vec{50, 50, 50}),
	})
	c, err := newCheck(t.Context(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	beside, in := sweep.Named{Name: "beside"}, sweep.Named{Name: "in", At: sweep.Setting{sweep.X: -66}}
	in.At[sweep.Yaw] = 0.01
	for _, names := range [][]sweep.Named{{beside, in}, {in, beside}, {in}, {beside}} {
		c.motion[0] = sweep.Motion{Named: names}
		rest, err := c.between(t.Context(), c.cold[0], c.cold[1])
		if err != nil {
			t.Fatal(err)
		}
		jobs, _ := c.jobs(Rules(c.scene.Doc))
		g, err := c.mover(jobs[0], c.cold, 2, &rest).search(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		held := names[0].Name == "in" || len(names) > 1
		if g.overlap != held || held && g.worst["g"].Name != "in" || !held && math.Abs(g.clearanceMM-11) > 1e-9 {
			t.Errorf("%v: overlap %v, %.6f mm, %+v", names, g.overlap, g.clearanceMM, g.worst)
		}
	}
}

// TestProbeInside: the same for a group that a probe shifts into the box.
func TestProbeInside(t *testing.T) {
	doc, meshes := twoBlocks()
	meshes["wall.stl"] = plain.Brick(geom.Vec{-900, 190, -900}, geom.Vec{900, 1500, 900})
	doc.Groups[0].Motion = &layout.Motion{YMM: layout.Range{-5, 5}, RollDeg: layout.Range{-1, 1}}
	doc.Rules = []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 5}}
	p, err := NewProbe(t.Context(), fixture.Scene(t, doc, meshes), "powertrain", 1)
	if err != nil {
		t.Fatal(err)
	}
	for shiftMM, inside := range map[float64]bool{0: false, 100: true, 700: true, 2500: false} {
		gapMM, err := p.GapMM(t.Context(), p.Ruled()[0], geom.Vec{0, shiftMM, 0}, math.Inf(1))
		if err != nil || math.IsInf(gapMM, -1) != inside {
			t.Errorf("shifted by %g mm: %g mm (%v)", shiftMM, gapMM, err)
		}
	}
}

// TestInsideUnknown: a block within a box that lacks a facet may lie inside it;
// the gap of the surfaces is given, and that nobody can tell. Beside the box, or
// where the box is whole or the surfaces cross, there is nothing to say.
func TestInsideUnknown(t *testing.T) {
	box := plain.Brick(geom.Vec{-50, -50, -50}, geom.Vec{50, 50, 50})
	holed := &mesh.Mesh{Verts: box.Verts, Tris: box.Tris[1:]}
	for _, c := range []struct {
		name    string
		box     *mesh.Mesh
		moveMM  float64
		unknown bool
	}{
		{"within", holed, 0, true}, {"beside", holed, 100, false}, {"across", holed, 50, false}, {"within a whole one", box, 0, false},
	} {
		doc := &layout.Document{Parts: []layout.Part{
			{Name: "block", Role: "x", Mesh: "block.stl", MoveMM: geom.Vec{0, c.moveMM, 0}}, {Name: "box", Role: "y", Mesh: "box.stl"},
		}}
		s := fixture.Scene(t, doc, map[string]*mesh.Mesh{"box.stl": c.box, "block.stl": plain.Brick(geom.Vec{-5, -5, -5}, geom.Vec{5, 5, 5})})
		r := run(t, s, Options{})
		p := find(t, r, "block ~ box @ static")
		if p.InsideUnknown != c.unknown || (len(r.InsideUnknown()) > 0) != c.unknown {
			t.Errorf("%s: inside unknown %v, want %v; %q", c.name, p.InsideUnknown, c.unknown, p.Notes)
		}
	}
}
