package mesh_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// counted returns how many faults of each kind are placed.
func counted(faults []mesh.Fault) (n [5]int) {
	for _, f := range faults {
		n[f.Kind]++
	}
	return n
}

// TestFaultsMeetTheCounts: as many places as Inspect counts, up to the cap, on
// the damaged shapes and on randomly spoiled spheres.
func TestFaultsMeetTheCounts(t *testing.T) {
	check := func(name string, m *mesh.Mesh) {
		h := mesh.Inspect(m)
		want := [5]int{h.OpenEdges, h.NonManifoldEdges, h.Degenerate, h.Duplicate, h.Flipped}
		for k := range want {
			want[k] = min(want[k], mesh.MaxFaults)
		}
		if got := counted(mesh.Faults(m)); got != want {
			t.Errorf("%s: %v places, want %v", name, got, want)
		}
		for _, f := range mesh.Faults(m) {
			checkPlace(t, name, m, f)
		}
	}
	for _, name := range []string{"bad_holes", "bad_flipped", "bad_degenerate", "bad_duplicate", "bad_inside_out", "torus_a"} {
		check(name, load(t, "shapes_open/"+name+".stl"))
	}
	check("brk_spider", load(t, "brk_spider.stl"))
	check("brk_wuson", load(t, "brk_wuson.stl"))
	rng := rand.New(rand.NewPCG(41, 0))
	for range 200 {
		check("spoiled sphere", spoiled(rng))
	}
}

// checkPlace looks at one fault with the plainest means.
func checkPlace(t *testing.T, name string, m *mesh.Mesh, f mesh.Fault) {
	t.Helper()
	uses := func() (n int) { // facets with area that have both ends of the edge
		for i, tri := range m.Tris {
			a, b, c := m.Corners(i)
			if slices.Contains(tri[:], f.Edge[0]) && slices.Contains(tri[:], f.Edge[1]) && b.Sub(a).Cross(c.Sub(a)).Len() > 1e-6 {
				n++
			}
		}
		return n
	}
	a, b, c := m.Corners(f.Tri)
	switch f.Kind {
	case mesh.OpenEdge, mesh.NonManifoldEdge:
		mid := m.Verts[f.Edge[0]].Add(m.Verts[f.Edge[1]]).Mul(0.5)
		tri := m.Tris[f.Tri]
		if f.At != mid || !slices.Contains(tri[:], f.Edge[0]) || !slices.Contains(tri[:], f.Edge[1]) {
			t.Errorf("%s: %v is not on its facet", name, f)
		}
		if n := uses(); (n == 1) != (f.Kind == mesh.OpenEdge) || n == 2 {
			t.Errorf("%s: %v has %d facets", name, f, n)
		}
	case mesh.Degenerate:
		if area := b.Sub(a).Cross(c.Sub(a)).Len(); area > 1e-3 {
			t.Errorf("%s: %v has an area", name, f)
		}
	case mesh.Duplicate:
		first := slices.IndexFunc(m.Tris, func(tri [3]int32) bool {
			turned := [3]int32{tri[1], tri[2], tri[0]}
			return m.Tris[f.Tri] == tri || m.Tris[f.Tri] == turned || m.Tris[f.Tri] == [3]int32{tri[2], tri[0], tri[1]}
		})
		if first == f.Tri {
			t.Errorf("%s: %v stands once", name, f)
		}
	}
	if f.Kind >= mesh.Degenerate {
		if mid := a.Add(b).Add(c).Mul(1.0 / 3); f.At.Sub(mid).Len() > 1e-12*(1+mid.Len()) || f.Edge != [2]int32{} {
			t.Errorf("%s: %v is not at the middle of its facet", name, f)
		}
	}
}

// TestFaultsWhereTheHoleIs: a sphere without one facet and with another turned.
func TestFaultsWhereTheHoleIs(t *testing.T) {
	m := ball(6)
	gone := m.Tris[40]
	m.Tris = slices.Delete(m.Tris, 40, 41)
	m.Tris[20][0], m.Tris[20][1] = m.Tris[20][1], m.Tris[20][0]
	faults := mesh.Faults(m)
	if got := counted(faults); got != [5]int{3, 0, 0, 0, 1} {
		t.Fatalf("%v", faults)
	}
	for _, f := range faults[:3] {
		if !slices.Contains(gone[:], f.Edge[0]) || !slices.Contains(gone[:], f.Edge[1]) {
			t.Errorf("%v is no edge of the facet left out", f)
		}
	}
	if faults[3].Tri != 20 || faults[3].Kind.String() != "facet that faces the wrong way" {
		t.Errorf("%v, want facet 20", faults[3])
	}
}

// TestChordOfPrisms: a prism of n sides inside a cylinder of radius R stands
// R(1-cos(pi/n)) off it at most. Source: sagitta of a circular arc. The estimate
// is short by a quarter of the bend squared, (2·pi/n)²/4, at most.
func TestChordOfPrisms(t *testing.T) {
	for _, n := range []int{16, 24, 64, 360} {
		for _, radiusMM := range []float64{0.5, 30, 2000} {
			m := tubeSheet(n, radiusMM)
			bend := 2 * math.Pi / float64(n)
			want := radiusMM * (1 - math.Cos(bend/2))
			chords := mesh.NewChords(m, math.Pi/6)
			// The seam's corners stand twice, so only facets off the seam are judged.
			for tri, at := range m.Tris {
				if column := int(at[0]) % (n + 1); column < 2 || column > n-4 {
					continue
				}
				if got := chords.AtMM(tri); math.Abs(got-want) > bend*bend/4*want {
					t.Fatalf("n=%d R=%g: facet %d %g, want %g", n, radiusMM, tri, got, want)
				}
			}
		}
	}
}

// tubeSheet returns three rings of a cylinder around z, seam corners doubled;
// corner i stands in column i modulo n+1.
func tubeSheet(n int, radiusMM float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for row := range int32(3) {
		for k := range int32(n + 1) {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			m.Verts = append(m.Verts, geom.Vec{radiusMM * c, radiusMM * s, radiusMM * float64(row)})
			if a := row*int32(n+1) + k; row < 2 && int(k) < n {
				b, d := a+1, a+int32(n)+2
				m.Tris = append(m.Tris, [3]int32{a, b, d}, [3]int32{a, d, d - 1})
			}
		}
	}
	return m
}
