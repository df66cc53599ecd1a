package simplify

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

const meshDir = "../../testdata/meshes"

func read(t testing.TB, file string) *mesh.Mesh {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(meshDir, file))
	if err != nil {
		t.Fatal(err)
	}
	m, err := mesh.ReadSTL(data)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// sampled returns the largest distance to t of n random points of m, of its
// corners and of the middles of its edges.
func sampled(rng *rand.Rand, m *mesh.Mesh, t *bvh.Tree, n int) (mostMM float64) {
	try := func(p geom.Vec) {
		near, _ := t.Nearest(p, math.Inf(1))
		mostMM = max(mostMM, near.DistMM)
	}
	for tri := range m.Tris {
		a, b, c := m.Corners(tri)
		try(a)
		try(a.Add(b).Mul(0.5))
		try(a.Add(b).Add(c).Mul(1.0 / 3))
	}
	for range n {
		a, b, c := m.Corners(rng.IntN(len(m.Tris)))
		u, v := rng.Float64(), rng.Float64()
		if u+v > 1 {
			u, v = 1-u, 1-v
		}
		try(a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v)))
	}
	return mostMM
}

// checkWithin checks what To promises, by sampling and measuring.
func checkWithin(t *testing.T, name string, m, coarse *mesh.Mesh, r Report, deviationMM float64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(61, 0))
	fine, _ := mesh.Mended(m)
	there := sampled(rng, coarse, bvh.Build(fine), 5000)
	back := sampled(rng, fine, bvh.Build(coarse), 5000)
	if max(there, back) > deviationMM {
		t.Errorf("%s: %g mm there, %g mm back, bound %g", name, there, back, deviationMM)
	}
	if r.After != len(coarse.Tris) || r.Before != len(m.Tris) || r.BoundMM > deviationMM || r.SeenMM > r.BoundMM {
		t.Errorf("%s: report %+v for %d of %d triangles", name, r, len(coarse.Tris), len(m.Tris))
	}
	was, is := mesh.Inspect(fine), mesh.Inspect(coarse)
	if was.Closed != is.Closed || is.Flipped > was.Flipped || is.Degenerate > was.Degenerate {
		t.Errorf("%s: %+v, was %+v", name, is, was)
	}
	if was, is := len(mesh.Bodies(fine)), len(mesh.Bodies(coarse)); was != is {
		t.Errorf("%s: %d bodies, was %d", name, is, was)
	}
	mm, mc := mesh.Measure(fine), mesh.Measure(coarse)
	if was.Closed && math.Abs(mm.VolumeMM3-mc.VolumeMM3) > deviationMM*max(mm.AreaMM2, mc.AreaMM2) {
		t.Errorf("%s: volume %g, was %g", name, mc.VolumeMM3, mm.VolumeMM3)
	}
}

// sphere returns a ball of radius 100 mm around at.
func sphere(rings int, at geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, 100}, {0, 0, -100}}}
	around := 2 * rings
	number := func(r, k int) int32 { return int32(2 + r*around + k%around) }
	for r := range rings - 1 {
		st, ct := math.Sincos(math.Pi * float64(r+1) / float64(rings))
		for k := range around {
			sp, cp := math.Sincos(2 * math.Pi * float64(k) / float64(around))
			m.Verts = append(m.Verts, geom.Vec{100 * st * cp, 100 * st * sp, 100 * ct})
		}
	}
	for k := range around {
		m.Tris = append(m.Tris, [3]int32{0, number(0, k), number(0, k+1)}, [3]int32{1, number(rings-2, k+1), number(rings-2, k)})
		for r := range rings - 2 {
			m.Tris = append(m.Tris, [3]int32{number(r, k), number(r+1, k), number(r+1, k+1)}, [3]int32{number(r, k), number(r+1, k+1), number(r, k+1)})
		}
	}
	for i := range m.Verts {
		m.Verts[i] = m.Verts[i].Add(at)
	}
	return m
}

func TestSimplified(t *testing.T) {
	wave := plain.Sheet(60, 40, func(u, v float64) geom.Vec {
		return geom.Vec{300 * u, 200 * v, 5 * math.Sin(9*u) * math.Cos(7*v)}
	})
	for _, c := range []struct {
		name        string
		m           *mesh.Mesh
		deviationMM float64
		most        float64 // ratio of triangles that may be left
	}{
		{"sphere, tight", sphere(30, geom.Vec{}), 0.3, 0.5},
		{"sphere, loose", sphere(30, geom.Vec{}), 2, 0.08},
		{"sphere, far", sphere(30, geom.Vec{1e5, -8e4, 5e4}), 2, 0.08},
		{"gear", read(t, "mech_gear40.stl"), 0.05, 0.5},
		{"sheet", wave, 0.2, 0.15},
		{"flat sheet", plain.Sheet(50, 50, func(u, v float64) geom.Vec { return geom.Vec{u, 40 * v, 0} }), 0.001, 0.01},
		{"box", read(t, "shapes_open/box_dense.stl"), 0.01, 0.02},
		{"plate", read(t, "shapes_open/plate.stl"), 0.01, 0.02},
		{"torus, coarser than thick", read(t, "shapes_open/torus_a.stl"), 50, 0.01},
		{"hollow", read(t, "shapes_open/hollow_box.stl"), 1, 1},
		{"two bodies", read(t, "shapes_open/two_bodies.stl"), 1, 0.15},
		{"holes", read(t, "shapes_open/bad_holes.stl"), 0.5, 0.55},
		{"self crossing", read(t, "shapes_open/bad_self_cross.stl"), 0.5, 0.5},
		{"degenerate", read(t, "shapes_open/bad_degenerate.stl"), 0.5, 0.45},
		{"broken export", read(t, "brk_spider.stl"), 0.5, 1},
		{"needle", read(t, "shapes_open/needle.stl"), 0.1, 0.5},
		{"helix", read(t, "shapes_open/helix.stl"), 0.5, 0.35},
	} {
		coarse, r, err := To(context.Background(), c.m, c.deviationMM)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %+v", c.name, r)
		if ratio := float64(r.After) / float64(r.Before); ratio > c.most {
			t.Errorf("%s: %d of %d triangles left", c.name, r.After, r.Before)
		}
		checkWithin(t, c.name, c.m, coarse, r, c.deviationMM)
	}
}

// Parts of the demo bay, at half a millimetre: whatever comes back keeps the
// promise, and together they lose triangles.
func TestBayParts(t *testing.T) {
	before, after := 0, 0
	for _, name := range []string{"block", "transaxle", "header_left_3", "muffler_rear", "harness_main", "plenum", "cv_boot_left", "wheel_envelope_left", "hose_upper", "undertray"} {
		m := read(t, "bay_20k/"+name+".stl")
		coarse, r, err := To(context.Background(), m, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %+v", name, r)
		checkWithin(t, name, m, coarse, r, 0.5)
		before, after = before+r.Before, after+r.After
	}
	if after > before*3/4 {
		t.Errorf("%d of %d triangles left", after, before)
	}
}

func TestSameAgain(t *testing.T) {
	m := sphere(30, geom.Vec{1, 2, 3})
	first, r, err := To(context.Background(), m, 0.7)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		again, s, err := To(context.Background(), m, 0.7)
		if err != nil || !reflect.DeepEqual(first, again) || r != s {
			t.Errorf("another answer: %+v, was %+v (%v)", s, r, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	m := sphere(10, geom.Vec{})
	for _, deviationMM := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, _, err := To(context.Background(), m, deviationMM); !errors.Is(err, ErrDeviation) {
			t.Errorf("deviation %g: %v", deviationMM, err)
		}
	}
	torn := sphere(10, geom.Vec{})
	torn.Verts[3][1] = math.NaN()
	if _, _, err := To(context.Background(), torn, 1); !errors.Is(err, ErrCoordinates) {
		t.Errorf("not finite: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := To(ctx, m, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	for name, m := range map[string]*mesh.Mesh{
		"empty":    {},
		"one":      {Verts: []geom.Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, Tris: [][3]int32{{0, 1, 2}}},
		"point":    {Verts: []geom.Vec{{1, 2, 3}}, Tris: [][3]int32{{0, 0, 0}}},
		"brick":    plain.Brick(geom.Vec{}, geom.Vec{1, 1, 1}),
		"too fine": sphere(10, geom.Vec{}),
	} {
		if got, r, err := To(context.Background(), m, 1e-14); err != nil || got != m || r.BoundMM != 0 || r.After != len(m.Tris) {
			t.Errorf("%s: %+v (%v), want the mesh as it was", name, r, err)
		}
	}
}

// Two plates d apart: proven for more than d, not for less. A plate of other
// triangles, larger, or with a hole is told by its border.
func TestProofOfPlates(t *testing.T) {
	plate := func(n int, sizeMM, zMM float64) *mesh.Mesh {
		return plain.Sheet(n, n+1, func(u, v float64) geom.Vec { return geom.Vec{u * sizeMM, v * sizeMM, zMM} })
	}
	holed := plate(20, 100, 0)
	holed.Tris = append(holed.Tris[:400], holed.Tris[406:]...)
	for _, c := range []struct {
		name       string
		a, b       *mesh.Mesh
		distanceMM float64 // one-sided, from a to b
	}{
		{"same", plate(7, 100, 0), plate(7, 100, 0), 0},
		{"other triangles", plate(2, 100, 0), plate(11, 100, 0), 0},
		{"above", plate(7, 100, 0), plate(11, 100, 3), 3},
		{"larger", plate(7, 104, 0), plate(11, 100, 0), 4 * math.Sqrt2},
		{"smaller", plate(7, 99, 0), plate(11, 100, 0), 0},
	} {
		check := func(limitMM float64) bool {
			w := witness{tree: bvh.Build(c.b), limitMM: limitMM}
			for i := range c.a.Tris {
				x, y, z := c.a.Corners(i)
				if !w.vouches(x, y, z) {
					return false
				}
			}
			return true
		}
		if !check(c.distanceMM*1.01 + 0.01) {
			t.Errorf("%s: not proven at a hundredth more", c.name)
		}
		if c.distanceMM > 0 && check(c.distanceMM*(1-1e-9)) {
			t.Errorf("%s: proven although false", c.name)
		}
	}
	// The facets left out leave a hole whose middle is more than 2 mm from the rest.
	p := proof{fine: bvh.Build(plate(20, 100, 0)), coarse: bvh.Build(holed), limitMM: 1}
	if err := p.run(context.Background()); err != nil || len(p.failedFine) < 4 || len(p.failedCoarse) > 0 {
		t.Errorf("hole: %d and %d failed (%v)", len(p.failedFine), len(p.failedCoarse), err)
	}
}

// Whatever is proven of random triangles holds for random points of them.
func TestProofAgainstSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(62, 0))
	gauss := func() geom.Vec { return geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()} }
	proven, refused := 0, 0
	for range 300 {
		m := &mesh.Mesh{}
		for i := range int32(12) {
			for range 3 {
				m.Verts = append(m.Verts, gauss().Mul(5))
			}
			m.Tris = append(m.Tris, [3]int32{3 * i, 3*i + 1, 3*i + 2})
		}
		a, b, c := gauss().Mul(4), gauss().Mul(4), gauss().Mul(4)
		tree := bvh.Build(m)
		var most float64
		for range 2000 {
			u, v := rng.Float64(), rng.Float64()
			if u+v > 1 {
				u, v = 1-u, 1-v
			}
			near, _ := tree.Nearest(a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v)), math.Inf(1))
			most = max(most, near.DistMM)
		}
		for _, limitMM := range []float64{most * 0.5, most * 0.999, most * 1.2, most * 2} {
			w := witness{tree: tree, limitMM: limitMM}
			switch ok := w.vouches(a, b, c); {
			case ok && limitMM < most:
				t.Fatalf("proven for %g although a point lies %g off", limitMM, most)
			case ok:
				proven++
			case limitMM >= 1.2*most: // samples cannot have missed so much
				t.Fatalf("not proven for %g, though no point was found further than %g", limitMM, most)
			default:
				refused++
			}
		}
	}
	if proven < 400 || refused < 400 {
		t.Errorf("%d proven, %d refused", proven, refused)
	}
}

func BenchmarkSphere(b *testing.B) {
	m := sphere(200, geom.Vec{})
	for b.Loop() {
		_, r, err := To(context.Background(), m, 0.2)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.After)/float64(r.Before), "left")
	}
}
