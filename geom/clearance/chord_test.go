package clearance

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// drum is a closed prism of n sides around the z axis, its corners on the
// radius, from z 0 to the height.
func drum(n int, radiusMM, heightMM float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, zMM := range []float64{0, heightMM} {
		for i := range n {
			turn := 2 * math.Pi * float64(i) / float64(n)
			m.Verts = append(m.Verts, geom.Vec{radiusMM * math.Cos(turn), radiusMM * math.Sin(turn), zMM})
		}
	}
	m.Verts = append(m.Verts, geom.Vec{}, geom.Vec{0, 0, heightMM})
	for i := range int32(n) {
		k, low, high := (i+1)%int32(n), int32(2*n), int32(2*n+1)
		top, next := i+int32(n), k+int32(n)
		m.Tris = append(m.Tris, [3]int32{i, k, next}, [3]int32{i, next, top}, [3]int32{low, k, i}, [3]int32{high, top, next})
	}
	return m
}

// TestChordErrorAtTheGap: the figure beside a gap is the sagitta of the facets
// there, r·(1-cos(π/n)) for a prism inscribed in a cylinder (geometry of the
// circle), the sum of both parts; 0 where the part is flat; the same however the
// part is turned and grown. The estimate is short by a²/16 of itself, a the
// facet's angle: under 1 % here.
func TestChordErrorAtTheGap(t *testing.T) {
	const radiusMM, sides, rel = 100.0, 24, 0.01
	sagittaMM := radiusMM * (1 - math.Cos(math.Pi/sides))
	half := geom.Vec{0, 0, 180.0 / sides} // turns a facet, not a corner, to the wall
	for _, c := range []struct {
		name    string
		turnDeg geom.Vec
		wall    *mesh.Mesh
		state   string
		wantMM  float64
	}{
		{"facet to flat wall", half, plain.Brick(geom.Vec{130, -500, -500}, geom.Vec{140, 500, 500}), "static", sagittaMM},
		{"edge to flat wall", geom.Vec{}, plain.Brick(geom.Vec{130, -500, -500}, geom.Vec{140, 500, 500}), "static", sagittaMM},
		{"grown", half, plain.Brick(geom.Vec{130, -500, -500}, geom.Vec{140, 500, 500}), "hot", sagittaMM},
		{"tilted: a corner of the rim", geom.Vec{0, 20, 0}, plain.Brick(geom.Vec{300, -500, -500}, geom.Vec{310, 500, 500}), "static", sagittaMM},
		{"inside of the flat end", geom.Vec{}, plain.Brick(geom.Vec{20, 25, 230}, geom.Vec{24, 28, 240}), "static", 0},
		{"two drums", half, moved(drum(sides, radiusMM, 200), geom.Vec{250, 0, 0}), "static", 2 * sagittaMM},
	} {
		doc := &layout.Document{
			Parts: []layout.Part{
				{Name: "drum", Role: "x", Mesh: "drum.stl", TurnDeg: c.turnDeg, Growth: &layout.Growth{PerK: 1e-5, FromDegC: 20, ToDegC: 120}},
				{Name: "wall", Role: "y", Mesh: "wall.stl"},
			},
			Rules: []layout.Rule{{A: "part:drum", B: "part:wall", State: c.state, LeastMM: 10}},
		}
		s := fixture.Scene(t, doc, map[string]*mesh.Mesh{"drum.stl": drum(sides, radiusMM, 200), "wall.stl": c.wall})
		p := find(t, run(t, s, Options{}), "drum ~ wall @ "+c.state)
		if p.ChordErrorMM == nil || math.Abs(*p.ChordErrorMM-c.wantMM) > rel*c.wantMM {
			t.Errorf("%s: %v, want %g", c.name, text(p.ChordErrorMM), c.wantMM)
		}
	}
}

func moved(m *mesh.Mesh, by geom.Vec) *mesh.Mesh {
	for i := range m.Verts {
		m.Verts[i] = m.Verts[i].Add(by)
	}
	return m
}

func text(mm *float64) any {
	if mm == nil {
		return "nothing"
	}
	return *mm
}

// TestChordErrorNeedsARule: a row that nothing is asked of has none, flat parts
// under a rule have 0, also in their overlap and where they move.
func TestChordErrorNeedsARule(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Groups[0].Motion = &layout.Motion{YMM: layout.Range{0, 50}}
	doc.Rules = []layout.Rule{{A: "part:block", B: "part:wall", State: "moving", LeastMM: 5}}
	r := run(t, fixture.Scene(t, doc, meshes), Options{})
	if p := find(t, r, "block ~ wall @ static"); p.ChordErrorMM != nil {
		t.Errorf("without a rule: %g", *p.ChordErrorMM)
	}
	if p := find(t, r, "block ~ wall @ moving"); !p.Overlap || p.ChordErrorMM == nil || *p.ChordErrorMM != 0 {
		t.Errorf("overlap %v of flat parts: %v, want 0", p.Overlap, text(p.ChordErrorMM))
	}
}

// TestChordErrorIsComputedOncePerMesh: a later run takes the figures of a mesh
// from the run before, also for pairs that it measures anew.
func TestChordErrorIsComputedOncePerMesh(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Rules = []layout.Rule{{A: "*", B: "*", State: "static", LeastMM: 5}}
	s := fixture.Scene(t, doc, meshes)
	first := run(t, s, Options{})
	next := run(t, s.Moved("powertrain", geom.Shift(geom.Vec{0, 3, 0})), Options{Prev: first})
	for i := range s.Parts {
		m := s.Parts[i].Mesh
		if c := first.chords[m]; c == nil || c.of == nil || next.chords[m] != c {
			t.Errorf("%s: not taken over", s.Parts[i].Name)
		}
	}
}

// TestGrowthTakesItsOwnShare: in "all together" what growth takes is told from
// what motion takes, without a rule for the hot state. The drum grows from 100
// to 100.5 mm radius (0.005 · 100), moves 3 mm and stands 20 mm off.
func TestGrowthTakesItsOwnShare(t *testing.T) {
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "drum", Role: "x", Mesh: "drum.stl", Group: "g", ToleranceMM: 1, Growth: &layout.Growth{PerK: 5e-5, FromDegC: 20, ToDegC: 120}},
			{Name: "wall", Role: "y", Mesh: "wall.stl", ToleranceMM: 2},
		},
		Groups: []layout.Group{{Name: "g", Motion: &layout.Motion{XMM: layout.Range{-1, 3}}}},
		Rules:  []layout.Rule{{A: "part:drum", B: "part:wall", State: "all together", LeastMM: 10}},
	}
	s := fixture.Scene(t, doc, map[string]*mesh.Mesh{
		"drum.stl": drum(24, 100, 200), "wall.stl": plain.Brick(geom.Vec{120, -500, -500}, geom.Vec{140, 500, 500}),
	})
	p := find(t, run(t, s, Options{}), "drum ~ wall @ all together")
	const roundMM = 1e-4 // the file holds single precision
	if math.Abs(p.GrowthMM-0.5) > roundMM || math.Abs(p.ClearanceMM-13.5) > roundMM || p.ErrorMM > roundMM {
		t.Errorf("growth takes %g and leaves %g, want 0.5 and 20-0.5-3-3", p.GrowthMM, p.ClearanceMM)
	}
}
