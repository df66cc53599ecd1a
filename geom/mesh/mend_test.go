package mesh_test

import (
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// TestMendedTorus: whatever was done to the torus, but for holes, mending gives
// back its volume, the one massprops.json states for the reversed torus.
func TestMendedTorus(t *testing.T) {
	const wantMM3 = 167276.53532129087
	for name, saying := range map[string]string{
		"bad_flipped":    "turned 192 facets to face out",
		"bad_degenerate": "dropped 60 facets without area",
		"bad_duplicate":  "dropped 200 facets that stood twice",
		"bad_inside_out": "turned 1920 facets to face out",
	} {
		m, said := mesh.Mended(load(t, "shapes_open/"+name+".stl"))
		if len(said) != 1 || said[0].String() != saying {
			t.Errorf("%s: said %q, want %q", name, said, saying)
		}
		if got := mesh.Inspect(m); got != (mesh.Health{Closed: true}) {
			t.Errorf("%s: after mending %+v", name, got)
		}
		if got := mesh.Measure(m).VolumeMM3; math.Abs(got-wantMM3) > 1e-9*wantMM3 {
			t.Errorf("%s: volume %.12g mm³, want %.12g", name, got, wantMM3)
		}
		if again, said := mesh.Mended(m); again != m || said != nil {
			t.Errorf("%s: mending twice does more: %q", name, said)
		}
	}
}

func TestMendedLeavesHolesAndSoundMeshes(t *testing.T) {
	for _, name := range []string{"shapes_open/bad_holes", "shapes_open/bad_self_cross", "shapes_open/hollow_box", "brk_wuson"} {
		m := load(t, name+".stl")
		if got, said := mesh.Mended(m); got != m || said != nil {
			t.Errorf("%s: said %q", name, said)
		}
	}
	m, said := mesh.Mended(load(t, "brk_spider.stl"))
	if got := mesh.Inspect(m); got.Degenerate != 0 || got.Flipped != 0 || got.OpenEdges != 72 {
		t.Errorf("brk_spider: after %q: %+v", said, got)
	}
}

// reversed returns m with the facets turned for which pick is true.
func reversed(m *mesh.Mesh, pick func(t int) bool) *mesh.Mesh {
	r := &mesh.Mesh{Verts: m.Verts}
	for t, tri := range m.Tris {
		if pick(t) {
			tri[1], tri[2] = tri[2], tri[1]
		}
		r.Tris = append(r.Tris, tri)
	}
	return r
}

// TestMendedHollow: a hollow stays a hollow, however much of it was turned.
func TestMendedHollow(t *testing.T) {
	m := load(t, "shapes_open/hollow_box.stl") // facets 0-11 outer, 12-23 inner
	want := mesh.Measure(m).VolumeMM3
	for name, pick := range map[string]func(t int) bool{
		"everything":        func(int) bool { return true },
		"the outer shell":   func(t int) bool { return t < 12 },
		"a few facets":      func(t int) bool { return t%7 == 0 },
		"most facets, both": func(t int) bool { return t%7 != 0 },
	} {
		mended, _ := mesh.Mended(reversed(m, pick))
		got := mesh.Measure(mended).VolumeMM3
		if name == "the outer shell" {
			// Both shells then faced inwards; which was meant cannot be known,
			// but the outer one must face out.
			if !mesh.Inspect(mended).Closed || got <= 0 {
				t.Errorf("%s: volume %g mm³", name, got)
			}
			continue
		}
		if got != want {
			t.Errorf("%s: volume %g mm³, want %g", name, got, want)
		}
	}
}

// TestFlatFacetsThatCloseASeamStay: the side of a box has an extra corner on one
// edge, and a facet without area joins it to the other side.
func TestFlatFacetsThatCloseASeamStay(t *testing.T) {
	m := load(t, "shapes_open/box_a.stl")
	seam := &mesh.Mesh{Verts: append([]geom.Vec(nil), m.Verts...)}
	first := m.Tris[0]
	mid := int32(len(seam.Verts))
	seam.Verts = append(seam.Verts, m.Verts[first[0]].Add(m.Verts[first[1]]).Mul(0.5))
	seam.Tris = append(seam.Tris, [3]int32{first[0], mid, first[2]}, [3]int32{mid, first[1], first[2]}, [3]int32{first[0], first[1], mid})
	seam.Tris = append(seam.Tris, m.Tris[1:]...)
	if got, want := mesh.Inspect(seam), (mesh.Health{Closed: true, Degenerate: 1}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got, said := mesh.Mended(seam); got != seam {
		t.Errorf("mended: %q", said)
	}
}

func TestOneSidedStripIsLeftAlone(t *testing.T) {
	strip := &mesh.Mesh{} // a Möbius strip of 2 x 12 facets
	const n = 12
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		hs, hc := math.Sincos(math.Pi * float64(i) / n)
		for _, w := range []float64{-10, 10} {
			strip.Verts = append(strip.Verts, geom.Vec{(50 + w*hc) * c, (50 + w*hc) * s, w * hs})
		}
	}
	for i := range int32(n) {
		a, b := 2*i, 2*i+1
		c, d := (a+2)%(2*n), (b+2)%(2*n)
		if i == n-1 {
			c, d = d, c
		}
		strip.Tris = append(strip.Tris, [3]int32{a, b, c}, [3]int32{b, d, c})
	}
	if got, want := mesh.Inspect(strip), (mesh.Health{OpenEdges: 2 * n}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestBodies(t *testing.T) {
	for name, want := range map[string]int{"two_bodies": 2, "hollow_box": 2, "bad_self_cross": 2, "torus_a": 1, "bad_degenerate": 1} {
		m := load(t, "shapes_open/"+name+".stl")
		bodies := mesh.Bodies(m)
		if len(bodies) != want {
			t.Errorf("%s: %d bodies, want %d", name, len(bodies), want)
		}
		seen := make([]bool, len(m.Tris))
		for _, b := range bodies {
			for i, tri := range b {
				if seen[tri] || i > 0 && b[i-1] >= tri {
					t.Fatalf("%s: triangle %d out of order or twice", name, tri)
				}
				seen[tri] = true
			}
		}
	}
}

func TestFeatureEdges(t *testing.T) {
	const thirtyDegRad = math.Pi / 6
	for name, want := range map[string]int{
		"box_a":      12,
		"cylinder":   2 * 48, // both rims; the wall bends by 7.5° a facet
		"torus_a":    0,
		"hollow_box": 24,
	} {
		m := load(t, "shapes_open/"+name+".stl")
		got := mesh.FeatureEdges(m, thirtyDegRad)
		if len(got) != want {
			t.Errorf("%s: %d feature edges, want %d", name, len(got), want)
		}
	}
	// However finely split, the edges of this box are 4·(300+300+20) mm long.
	dense := load(t, "shapes_open/box_dense.stl")
	var lengthMM float64
	for _, e := range mesh.FeatureEdges(dense, thirtyDegRad) {
		lengthMM += dense.Verts[e[0]].Sub(dense.Verts[e[1]]).Len()
	}
	if math.Abs(lengthMM-2480) > 1e-6 {
		t.Errorf("box_dense: edges of %g mm, want 2480", lengthMM)
	}
	// A turned facet bends nothing.
	flipped, sound := load(t, "shapes_open/bad_flipped.stl"), load(t, "shapes_open/bad_inside_out.stl")
	if a, b := len(mesh.FeatureEdges(flipped, thirtyDegRad)), len(mesh.FeatureEdges(sound, thirtyDegRad)); a != b {
		t.Errorf("turned facets change the edges: %d, want %d", a, b)
	}
	if got := len(mesh.FeatureEdges(load(t, "shapes_open/bad_holes.stl"), thirtyDegRad)); got != 170 {
		t.Errorf("bad_holes: %d edges drawn, want its 170 open ones", got)
	}
}

func TestWriteSTLRefusesWhatCannotBeHeld(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), 2e7} {
		m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, 0}, {1, 0, 0}, {0, x, 0}}, Tris: [][3]int32{{0, 1, 2}}}
		if err := m.WriteSTL(&strings.Builder{}, "x"); err == nil || !strings.Contains(err.Error(), "corner 3") {
			t.Errorf("%g: error %v", x, err)
		}
	}
}
