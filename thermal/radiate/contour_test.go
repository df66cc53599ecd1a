package radiate

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/thermal/patch"
)

// whole returns a flat sheet as one patch.
func whole(t *testing.T, m *mesh.Mesh) *flat {
	t.Helper()
	set, err := patch.Build(bodies(m), patch.Options{EdgeMM: 1e6, MostPatches: 2})
	if err != nil {
		t.Fatal(err)
	}
	f := flatOf(set, &set.Patches[0])
	if f == nil {
		t.Fatal("a flat sheet is not flat")
	}
	return f
}

// The contour form against every closed form of the reference file between
// rectangles with nothing between (sources there): parallel, offset, square to
// each other, with a common edge. 1e-8 relative.
func TestContourForm(t *testing.T) {
	count := 0
	for _, c := range readCases(t, "O-VF") {
		g := c.Geometry
		if g.Dim == 2 || g.Emitter.Type != "rect" || g.Target.Type != "rect" || len(g.Blockers) > 0 {
			continue
		}
		count++
		a, b := whole(t, g.Emitter.sheet(t, 0)), whole(t, g.Target.sheet(t, 0))
		var areaM2 float64
		u, v := vec(g.Emitter.U), vec(g.Emitter.V)
		areaM2 = u.Cross(v).Len() * mm2ToM2
		if !a.faces(b) || !b.faces(a) {
			t.Errorf("%s: the rectangles do not face each other", c.ID)
		}
		for _, got := range []float64{exchangeM2(a, b), exchangeM2(b, a)} {
			if f := got / areaM2; math.Abs(f-c.Expected.F) > 1e-8*c.Expected.F {
				t.Errorf("%s (%s): F = %.9f, want %.9f", c.ID, c.Title, f, c.Expected.F)
			} else {
				t.Logf("%s: off by %.1e", c.ID, f/c.Expected.F-1)
			}
		}
	}
	if count < 6 { // O-VF01 to O-VF06
		t.Errorf("%d cases", count)
	}
}

// With a blocker between, or beside but within reach, the form is left to rays;
// what lies behind a patch, or beyond the hull of both, does not block.
func TestClearBetween(t *testing.T) {
	rect := func(o, u, v geom.Vec) *mesh.Mesh {
		return &mesh.Mesh{Verts: []geom.Vec{o, o.Add(u), o.Add(u).Add(v), o.Add(v)}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	}
	x, y := geom.Vec{100, 0, 0}, geom.Vec{0, 100, 0}
	low, high := rect(geom.Vec{}, x, y), rect(geom.Vec{60, 0, 100}, y, x)
	for name, c := range map[string]struct {
		blocker *mesh.Mesh
		clear   bool
	}{
		"between":               {rect(geom.Vec{20, 20, 50}, x.Mul(0.3), y.Mul(0.3)), false},
		"a sliver at the rim":   {rect(geom.Vec{30, 99, 50}, x.Mul(0.3), y.Mul(0.3)), false},
		"behind the lower one":  {rect(geom.Vec{20, 20, -1}, x.Mul(0.3), y.Mul(0.3)), true},
		"in the lower plane":    {rect(geom.Vec{100, 0, 0}, x, y), true},
		"in the box, no hull":   {rect(geom.Vec{0, 0, 99}, x.Mul(0.1), y), true},
		"far away":              {rect(geom.Vec{1000, 0, 50}, x, y), true},
		"beside the shear line": {rect(geom.Vec{110, 0, 10}, x.Mul(0.2), y), true},
	} {
		set, err := patch.Build(bodies(low, high, c.blocker), patch.Options{EdgeMM: 1e6, MostPatches: 6})
		if err != nil {
			t.Fatal(err)
		}
		a, b := flatOf(set, &set.Patches[0]), flatOf(set, &set.Patches[2])
		if !a.faces(b) || !b.faces(a) {
			t.Fatalf("%s: they do not face each other", name)
		}
		looks := 100
		if got := clearBetween(set, bvh.BuildRays(set.Mesh), a, b, &looks); got != c.clear {
			t.Errorf("%s: clear %v, want %v", name, got, c.clear)
		}
	}
}

// In a closed box and in one with a ball the exact factors and the rays agree:
// what replaces the rays lies within four standard errors of them, rows close,
// and the closed forms of O-VF39 come out ten times closer than by rays.
func TestExactFactorsInABox(t *testing.T) {
	walls := boxSheets(1000, 600, 400)
	c := readCases(t, "O-VF39")[0]
	po, o := patch.Options{EdgeMM: 150}, Options{Rays: 64, Seed: 3}
	exact := trace(t, bodies(walls...), po, o)
	o.RaysOnly = true
	rays := trace(t, bodies(walls...), po, o)
	if exact.Exact == 0 || rays.Exact != 0 {
		t.Fatalf("%d pairs are exact, %d with rays only", exact.Exact, rays.Exact)
	}
	checkFactors(t, exact)
	var offExact, offRays float64
	for k, want := range c.Expected.Terms {
		offExact = math.Max(offExact, math.Abs(exact.Table().Factor[0][k+1]-want))
		offRays = math.Max(offRays, math.Abs(rays.Table().Factor[0][k+1]-want))
	}
	if offExact > offRays {
		t.Errorf("exact pairs leave %.2g, rays alone %.2g", offExact, offRays)
	}
	t.Logf("%d exact pairs; off by %.2g, by rays alone %.2g; largest correction %.2g", exact.Exact, offExact, offRays, exact.LargestCorrection)
	ball := shape{Type: "sphere", C: []float64{0.3, 0.2, 0.2}, R: 0.1, Side: "out"}
	with := trace(t, bodies(append(walls, ball.sheet(t, 0))...), po, Options{Rays: 256, Seed: 3})
	checkFactors(t, with)
	if with.LargestCorrection > 0.01 {
		t.Errorf("largest correction %g", with.LargestCorrection)
	}
}

// The rule integrates powers up to the 47th exactly.
func TestGaussRule(t *testing.T) {
	for n := 0; n <= 46; n += 2 {
		var sum float64
		for k, x := range gaussPlaces {
			sum += 2 * gaussWeights[k] * math.Pow(x, float64(n))
		}
		if want := 2 / float64(n+1); math.Abs(sum-want) > 1e-13 {
			t.Errorf("power %d: %.16g, want %.16g", n, sum, want)
		}
	}
}
