package render

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// TestNastyInputDrawsSomething feeds numbers no file should hold: the picture
// may be empty, but nothing may break or hang.
func TestNastyInputDrawsSomething(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	wild := []float64{nan, inf, -inf, 0, 1, -1, 1e300, 1e30, -1e30, 1e9, 1e-300, 123.4, -77}
	rng := rand.New(rand.NewPCG(3, 0))
	pick := func() float64 { return wild[rng.IntN(len(wild))] }
	vec := func() geom.Vec { return geom.Vec{pick(), pick(), pick()} }
	for round := range 300 {
		m := &mesh.Mesh{}
		for range 12 {
			m.Verts = append(m.Verts, vec())
		}
		var edges [][2]int32
		for range 20 {
			m.Tris = append(m.Tris, [3]int32{int32(rng.IntN(12)), int32(rng.IntN(12)), int32(rng.IntN(12))})
			edges = append(edges, [2]int32{int32(rng.IntN(12)), int32(rng.IntN(12))})
		}
		it := Item{Mesh: m, Edges: edges, Pose: geom.Identity(), Closed: round%2 == 0, Ghost: round%5 == 1, Selected: round%3 == 0}
		it.Field = []float32{float32(nan), float32(inf), 3}
		s := Scene{Items: []Item{it, {Mesh: mesh1(), Pose: geom.Identity(), Closed: true}}}
		s.Overlay = Overlay{
			Witnesses: []Witness{{From: vec(), To: vec(), Text: "1 mm"}},
			Markers:   []Marker{{At: vec(), Text: "1"}},
			Labels:    []Label{{At: vec(), Text: "label"}},
			Paths:     []Path{{Points: []geom.Vec{vec(), vec(), vec()}, WidthPx: pick()}},
			Flows:     []Flow{{From: vec(), To: vec(), Text: "flow", Share: pick()}},
		}
		c := NewCamera()
		c.Parallel = round%2 == 1
		if round%4 == 3 {
			c = Camera{Target: vec(), AzimuthRad: pick(), ElevationRad: pick(), DistMM: pick(), FieldRad: pick(), Parallel: c.Parallel}
		}
		o := Options{
			Supersample: 1 + round%2, Soft: round%3 == 1, Ground: &Ground{ZMM: pick(), StepMM: pick()}, TextPx: 9,
			Field: &FieldScale{Low: float32(pick()), High: float32(pick())}, Triad: true,
		}
		if round%3 != 0 {
			for range round % 4 {
				o.Cuts = append(o.Cuts, Cut{Point: vec(), Normal: vec(), Grid: round%2 == 0})
			}
		}
		f := draw(t, s, c, o, 50, 40)
		f.Pick(25, 20)
		c.Fit(s.Box(), 50, 40).Orbit(vec(), pick(), pick()).ZoomAt(pick(), pick(), pick(), 50, 40).Refocus(vec())
	}
}

func TestSoftShadingKnowsPlanesFromCreases(t *testing.T) {
	// One leaning plane, then the same with a wall standing on it.
	floor, _ := block(400, 400, 5)
	wall, _ := block(5, 400, 200)
	lean := geom.Pose{R: geom.Turn(geom.Vec{0.3, 0.5, 0})}
	s := Scene{Items: []Item{{Mesh: floor, Pose: lean, Closed: true, Color: Swatch(2)}}}
	for _, parallel := range []bool{false, true} {
		c := Camera{DistMM: 1500, FieldRad: 0.4, Parallel: parallel}.Look(ViewTop)
		plain := Options{NoEdges: true, NoOutlines: true}
		soft := plain
		soft.Soft = true
		darker := func(s Scene, x, y int) int {
			i := (y*160 + x) * 4
			return int(draw(t, s, c, plain, 160, 160).Image.Pix[i]) - int(draw(t, s, c, soft, 160, 160).Image.Pix[i])
		}
		if d := darker(s, 80, 90); d > 1 {
			t.Errorf("parallel %v: a plane is darkened by %d", parallel, d)
		}
		with := s
		with.Items = append(with.Items[:1:1], Item{Mesh: wall, Pose: lean.After(geom.Shift(geom.Vec{0, 0, 205})), Closed: true, Color: Swatch(2)})
		f := draw(t, with, c, plain, 160, 160)
		// Walk down the middle column to the last pixel of the floor's upper part.
		foot := -1
		for y := range 80 {
			if p, ok := f.Pick(80, y); ok && p.Item == 0 {
				foot = y
			} else if foot >= 0 {
				break
			}
		}
		if foot < 0 {
			t.Fatal("no floor in the middle column")
		}
		if d := darker(with, 80, foot-1); d < 15 {
			t.Errorf("parallel %v: a crease is darkened by %d only", parallel, d)
		}
		with.Items[0].Field = make([]float32, len(floor.Tris))
		plain.Field = &FieldScale{High: 1}
		soft.Field = plain.Field
		if d := darker(with, 80, foot-1); d != 0 {
			t.Errorf("parallel %v: a field colour is darkened by %d", parallel, d)
		}
	}
}

func TestGroundShadowLiesUnderThePart(t *testing.T) {
	low, _ := block(150, 150, 20)
	s := Scene{Items: []Item{{Mesh: low, Pose: geom.Shift(geom.Vec{0, 0, 60}), Closed: true}}}
	c := Camera{DistMM: 3000, FieldRad: 0.4, ElevationRad: 0.5}
	plain, soft := Options{Ground: &Ground{StepMM: 1e6}, NoEdges: true}, Options{Ground: &Ground{StepMM: 1e6}, NoEdges: true, Soft: true}
	darker := func(c Camera, at geom.Vec) int {
		a, b := draw(t, s, c, plain, 200, 200), draw(t, s, c, soft, 200, 200)
		x, y, _ := a.Project(at)
		if p, ok := a.Pick(int(x), int(y)); ok {
			t.Fatalf("%v is hidden by %v", at, p)
		}
		i := a.Image.PixOffset(int(x), int(y))
		return int(a.Image.Pix[i]) - int(b.Image.Pix[i])
	}
	if d := darker(c, geom.Vec{160, 0, 0}); d < 8 {
		t.Errorf("beside the part the ground is darkened by %d only", d)
	}
	if d := darker(c, geom.Vec{600, 300, 0}); d != 0 {
		t.Errorf("far from it the ground is darkened by %d", d)
	}
	s.Items[0].Pose.T[2] = 2000
	if d := darker(c, geom.Vec{160, 0, 0}); d > 4 {
		t.Errorf("a part 2 m up darkens the ground by %d", d)
	}
	s.Items[0].Pose.T[2] = 60
	c.ElevationRad = -0.5
	if d := darker(c, geom.Vec{400, 0, 0}); d != 0 {
		t.Errorf("from below the ground is darkened by %d", d)
	}
}
