package mesh_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// plainHealth counts faults by sets of corners, slowly, without repairs: the
// oracle for meshes whose facets are all far from flat.
func plainHealth(m *mesh.Mesh) mesh.Health {
	var h mesh.Health
	uses := map[[2]int32][2]int{} // edge -> times run up, times run down
	seen := map[[3]int32]bool{}
	for _, tri := range m.Tris {
		if tri[0] == tri[1] || tri[1] == tri[2] || tri[2] == tri[0] {
			h.Degenerate++
			continue
		}
		for k := range 3 {
			a, b := tri[k], tri[(k+1)%3]
			u := uses[[2]int32{min(a, b), max(a, b)}]
			if a < b {
				u[0]++
			} else {
				u[1]++
			}
			uses[[2]int32{min(a, b), max(a, b)}] = u
		}
		again := false
		for k := range 3 {
			again = again || seen[[3]int32{tri[k], tri[(k+1)%3], tri[(k+2)%3]}]
		}
		seen[tri] = true
		if again {
			h.Duplicate++
		}
	}
	h.Closed = len(uses) > 0 && h.Duplicate == 0
	for _, u := range uses {
		switch u[0] + u[1] {
		case 1:
			h.OpenEdges++
		case 2:
		default:
			h.NonManifoldEdges++
		}
		h.Closed = h.Closed && u[0] == u[1]
	}
	return h
}

// spoiled returns a sphere to which random things were done.
func spoiled(rng *rand.Rand) *mesh.Mesh {
	m := ball(3 + rng.IntN(6))
	for range rng.IntN(6) {
		t := rng.IntN(len(m.Tris))
		tri := m.Tris[t]
		switch rng.IntN(5) {
		case 0: // left out
			m.Tris = slices.Delete(m.Tris, t, t+1)
		case 1: // twice, begun at another corner
			m.Tris = append(m.Tris, [3]int32{tri[1], tri[2], tri[0]})
		case 2: // turned
			m.Tris[t] = [3]int32{tri[0], tri[2], tri[1]}
		case 3: // two corners in one
			m.Tris = append(m.Tris, [3]int32{tri[0], tri[1], tri[1]})
		case 4: // a loose facet on the same corners
			m.Tris = append(m.Tris, [3]int32{tri[0], tri[1], int32(rng.IntN(len(m.Verts)))})
		}
	}
	rng.Shuffle(len(m.Tris), func(i, j int) { m.Tris[i], m.Tris[j] = m.Tris[j], m.Tris[i] })
	return m
}

func TestInspectMeetsPlainCount(t *testing.T) {
	kinds := map[bool]int{}
	for seed := range uint64(400) {
		m := spoiled(rand.New(rand.NewPCG(seed, 1)))
		got, want := mesh.Inspect(m), plainHealth(m)
		want.Flipped = got.Flipped // judged by the next tests
		kinds[want.Closed]++
		if got != want {
			t.Fatalf("seed %d:\n got %+v\nwant %+v", seed, got, want)
		}
		mended, _ := mesh.Mended(m)
		if again := mesh.Inspect(mended); again.Flipped+again.Duplicate+again.Degenerate > 0 {
			t.Fatalf("seed %d: mending left %+v", seed, again)
		}
	}
	if kinds[true] < 20 || kinds[false] < 20 {
		t.Errorf("the meshes are too alike: %v", kinds)
	}
}

// TestMendedFindsTheTurnedFacets: any number of facets of a sphere are turned;
// mending gives back the very mesh.
func TestMendedFindsTheTurnedFacets(t *testing.T) {
	for seed := range uint64(50) {
		rng := rand.New(rand.NewPCG(seed, 2))
		m := ball(6)
		share := rng.Float64()
		turned := make([]bool, len(m.Tris))
		count := 0
		for i := range turned {
			if rng.Float64() < share {
				turned[i] = true
				count++
			}
		}
		bad := reversed(m, func(i int) bool { return turned[i] })
		if got := mesh.Inspect(bad).Flipped; got != count {
			t.Fatalf("seed %d: %d facets flipped, want %d", seed, got, count)
		}
		mended, _ := mesh.Mended(bad)
		for i := range m.Tris {
			a, b, c := m.Corners(i)
			x, y, z := mended.Corners(i)
			if n, o := b.Sub(a).Cross(c.Sub(a)), y.Sub(x).Cross(z.Sub(x)); n.Dot(o) <= 0 {
				t.Fatalf("seed %d: facet %d faces in", seed, i)
			}
		}
	}
}

// joined returns all meshes in one, sharing no corners.
func joined(meshes ...*mesh.Mesh) *mesh.Mesh {
	all := &mesh.Mesh{}
	for _, m := range meshes {
		base := int32(len(all.Verts))
		all.Verts = append(all.Verts, m.Verts...)
		for _, tri := range m.Tris {
			all.Tris = append(all.Tris, [3]int32{tri[0] + base, tri[1] + base, tri[2] + base})
		}
	}
	return all
}

func every(int) bool { return true }

// TestNestedShells: radii 100 (outer), 50 (hollow), 20 (a core in the hollow).
func TestNestedShells(t *testing.T) {
	outer, hollow, core := ball(8), reversed(ball(8).Scaled(0.5), every), ball(8).Scaled(0.2)
	good := joined(outer, hollow, core)
	if got := mesh.Inspect(good); got != (mesh.Health{Closed: true}) {
		t.Fatalf("sound nest: %+v", got)
	}
	want := mesh.Measure(good).VolumeMM3
	for name, bad := range map[string]*mesh.Mesh{
		"all inside out": reversed(good, every),
		"core reversed":  joined(outer, hollow, reversed(core, every)),
		"other order":    joined(reversed(core, every), reversed(hollow, every), reversed(outer, every)),
	} {
		mended, said := mesh.Mended(bad)
		if got := mesh.Measure(mended).VolumeMM3; math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: volume %g mm³, want %g (said %q)", name, got, want, said)
		}
	}
}

// TestTwoBoxesOnOneEdge: solids that meet in an edge are closed, the edge is
// counted, and a reversed one is turned.
func TestTwoBoxesOnOneEdge(t *testing.T) {
	box := load(t, "shapes_open/box_a.stl") // 60 x 40 x 30 mm about the origin
	m := joined(box, box)
	for i := len(box.Verts); i < len(m.Verts); i++ {
		m.Verts[i] = m.Verts[i].Add(geom.Vec{60, 40, 0})
	}
	m = welded(m)
	if got, want := mesh.Inspect(m), (mesh.Health{Closed: true, NonManifoldEdges: 1}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := len(mesh.Bodies(m)); got != 1 {
		t.Errorf("%d bodies, want 1", got)
	}
	bad := reversed(m, func(i int) bool { return i < len(box.Tris) })
	if got := mesh.Inspect(bad).Flipped; got != len(box.Tris) {
		t.Errorf("%d facets flipped, want %d", got, len(box.Tris))
	}
}

// TestSheetOfTwoFacetsBackToBack encloses nothing and faces both ways.
func TestSheetOfTwoFacetsBackToBack(t *testing.T) {
	m := &mesh.Mesh{Verts: []geom.Vec{{0.1, 0.7, 1.3}, {10.3, 0.1, 2.9}, {4.7, 20.1, -3.3}}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 1}}}
	for range 2 {
		if got, want := mesh.Inspect(m), (mesh.Health{Closed: true}); got != want {
			t.Errorf("got %+v, want %+v", got, want)
		}
		m = reversed(m, every)
	}
}

// welded joins equal vertices.
func welded(m *mesh.Mesh) *mesh.Mesh {
	w := &mesh.Mesh{}
	seen := map[geom.Vec]int32{}
	for _, tri := range m.Tris {
		for k, v := range tri {
			p := m.Verts[v]
			if _, ok := seen[p]; !ok {
				seen[p] = int32(len(w.Verts))
				w.Verts = append(w.Verts, p)
			}
			tri[k] = seen[p]
		}
		w.Tris = append(w.Tris, tri)
	}
	return w
}

// TestSectionsOfRandomPlanes: planes through corners of a faceted sphere; each
// outline closes and runs counter-clockwise.
func TestSectionsOfRandomPlanes(t *testing.T) {
	m := ball(9)
	rng := rand.New(rand.NewPCG(7, 7))
	for i := range 300 {
		normal := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		point := m.Verts[rng.IntN(len(m.Verts))] // through a corner at least
		if i%3 == 0 {
			normal[i/3%3] = 0
		}
		for _, line := range mesh.Section(m, geom.Identity(), mesh.Plane{Point: point, Normal: normal}) {
			if line[0] != line[len(line)-1] {
				t.Fatalf("plane %d: open outline", i)
			}
			if len(line) > 3 && mesh.OutlineAreaMM2(line, normal) < -1e-9 {
				t.Fatalf("plane %d: a convex body has a hollow", i)
			}
		}
	}
}
