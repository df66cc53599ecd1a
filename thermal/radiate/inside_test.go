package radiate

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/thermal/patch"
)

func solids(meshes ...*mesh.Mesh) []patch.Body {
	b := bodies(meshes...)
	for i := range b {
		b[i].Closed = true
	}
	return b
}

// Three bricks run into one another, as envelopes of bolted parts do. What is
// inside another solid must see nothing but itself, and what is left must be
// reciprocal as shot: the repair has little to do.
func TestBricksThatRunIntoOneAnother(t *testing.T) {
	f := trace(t, solids(
		plain.Brick(geom.Vec{0, 0, 0}, geom.Vec{300, 200, 200}),
		plain.Brick(geom.Vec{100, 50, 100}, geom.Vec{250, 150, 350}), // a cover that dips in
		plain.Brick(geom.Vec{200, -50, 150}, geom.Vec{400, 250, 300}),
	), patch.Options{EdgeMM: 25}, Options{Rays: 512, Seed: 4})
	checkFactors(t, f)
	if f.LargestCorrection > 0.005 {
		t.Errorf("largest correction %g", f.LargestCorrection)
	}
	// Of the cover's 0.155 m², below z = 200 it lies in the first brick, and
	// where x > 200 and z is 150 to 300 in the third.
	var buriedM2, areaM2 float64
	for p, pp := range f.Set.Patches {
		if pp.Part == 1 {
			buriedM2 += pp.AreaM2 * f.BuriedShare[p]
			areaM2 += pp.AreaM2
		}
	}
	// Bottom 0.015; sides below 200: 0.05; above, in the third brick from 200
	// to 300: end face x = 250: 0.01, two strips of 50 × 100: 0.01.
	want := 0.015 + 0.05 + 0.01 + 0.01
	if math.Abs(areaM2-0.155) > 1e-9 || math.Abs(buriedM2-want) > 0.01*want {
		t.Errorf("%.4f of %.4f m² buried, want %.4f", buriedM2, areaM2, want)
	}
}

// insideOf against the plain answer for boxes, on a grid that includes corners,
// edges and far points.
func TestInsideOf(t *testing.T) {
	lo, hi := geom.Vec{0, 0, 0}, geom.Vec{100, 100, 100}
	hollowLo, hollowHi := geom.Vec{20, 20, 20}, geom.Vec{80, 80, 80}
	hollow := plain.Brick(lo, hi)
	inner := plain.Brick(hollowLo, hollowHi)
	for _, tri := range inner.Tris { // the cavity's wall faces into the cavity
		hollow.Tris = append(hollow.Tris, [3]int32{tri[0] + 8, tri[2] + 8, tri[1] + 8})
	}
	hollow.Verts = append(hollow.Verts, inner.Verts...)
	set, err := patch.Build(append(solids(hollow), bodies(plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{200 * u, 200 * v, 50} }))...), patch.Options{})
	if err != nil {
		t.Fatal(err)
	}
	within := func(p, lo, hi geom.Vec) bool {
		return p[0] > lo[0] && p[0] < hi[0] && p[1] > lo[1] && p[1] < hi[1] && p[2] > lo[2] && p[2] < hi[2]
	}
	for x := -15.0; x < 130; x += 10 {
		for y := -15.0; y < 130; y += 10 {
			for z := -15.0; z < 130; z += 10 {
				p := geom.Vec{x, y, z}
				want := within(p, lo, hi) && !within(p, hollowLo, hollowHi)
				if got := insideOf(set, p); got != want {
					t.Fatalf("%v inside: %v, want %v", p, got, want)
				}
			}
		}
	}
}

// A guest that looks at a scene must receive what it would as part of it, where
// the scene throws nothing back: then the guest can't change what it sees.
func TestLookMatchesTrace(t *testing.T) {
	wall := plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{400 * u, 400 * v, 0} })
	pipe := shape{Type: "cyl", C: []float64{0.1, 0.2, 0.25}, Axis: []float64{1, 0, 0}, L: 0.3, R: 0.03, Side: "out"}.sheet(t, 0)
	guest := plain.Brick(geom.Vec{180, 150, 20}, geom.Vec{240, 230, 90})
	whole := trace(t, append(bodies(wall, pipe), solids(guest)...), patch.Options{EdgeMM: 20}, Options{Seed: 1}).Table().Factor[2]

	f := trace(t, bodies(wall, pipe), patch.Options{EdgeMM: 20}, Options{Seed: 1})
	e := emission(f, []float64{1, 1})
	r, err := Exchange(t.Context(), f, e, 0)
	if err != nil {
		t.Fatal(err)
	}
	set, err := patch.Build(solids(guest), patch.Options{EdgeMM: 20})
	if err != nil {
		t.Fatal(err)
	}
	s := r.Look(bvh.BuildRays(f.Set.Mesh), Guest{Set: set, Tree: bvh.BuildRays(set.Mesh), Without: -1}, Options{Seed: 1})
	var got [3]float64
	var areaM2 float64
	for p := range set.Patches {
		areaM2 += set.Patches[p].AreaM2
		for c := range got {
			got[c] += set.Patches[p].AreaM2 * s.Share[p][c]
		}
	}
	for c, want := range []float64{whole[0], whole[1], whole[3]} {
		if value := got[c] / areaM2; math.Abs(value-want) > math.Max(0.01*want, 0.002) {
			t.Errorf("emitter %d: %.4f as a guest, %.4f as a part", c, value, want)
		}
	}
}
