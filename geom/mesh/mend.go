package mesh

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
)

// Mended returns m with what can be repaired safely, and a sentence for each
// thing done: facets without area and repeated facets are dropped, facets are
// turned so that each body is wound alike and faces out. Holes stay open and no
// corner moves. Facets keep their order, but their numbers close up. If there is
// nothing to do it returns m itself and no sentence.
func Mended(m *Mesh) (*Mesh, []say.Text) {
	mended, said, _ := Examined(m)
	return mended, said
}

// Examined is Mended and also returns the health of m, as Inspect does, for the
// price of one of them.
func Examined(m *Mesh) (*Mesh, []say.Text, Health) {
	f := survey(m)
	h := f.health
	var said []say.Text
	tell := func(n int, one, many say.Text) {
		switch {
		case n == 1:
			said = append(said, one)
		case n > 1:
			said = append(said, many)
		}
	}
	tell(h.Degenerate-f.spared, say.Of("dropped 1 facet without area"), say.F("dropped %d facets without area", h.Degenerate-f.spared))
	tell(h.Duplicate, say.Of("dropped 1 facet that stood twice"), say.F("dropped %d facets that stood twice", h.Duplicate))
	tell(h.Flipped, say.Of("turned 1 facet to face out"), say.F("turned %d facets to face out", h.Flipped))
	if len(said) == 0 {
		return m, nil, h
	}
	mended := &Mesh{Tris: make([][3]int32, 0, len(m.Tris))}
	renumber := make([]int32, len(m.Verts)) // new index + 1, 0 while unused
	for t, tri := range m.Tris {
		if !f.sound[t] {
			continue
		}
		if f.turn[t] {
			tri[1], tri[2] = tri[2], tri[1]
		}
		for k, v := range tri {
			if renumber[v] == 0 {
				mended.Verts = append(mended.Verts, m.Verts[v])
				renumber[v] = int32(len(mended.Verts))
			}
			tri[k] = renumber[v] - 1
		}
		mended.Tris = append(mended.Tris, tri)
	}
	return mended, said, h
}

// Bodies returns the triangles of each connected body, by rising index; bodies
// stand in the order of their first triangle. Facets belong together when they
// share a corner, so an empty hollow is a body of its own.
func Bodies(m *Mesh) [][]int32 {
	parent := make([]int32, len(m.Verts))
	for v := range parent {
		parent[v] = int32(v)
	}
	root := func(v int32) int32 {
		for parent[v] != v {
			parent[v] = parent[parent[v]] // halve the path
			v = parent[v]
		}
		return v
	}
	for _, tri := range m.Tris {
		a := root(tri[0])
		parent[root(tri[1])] = a
		parent[root(tri[2])] = a
	}
	var bodies [][]int32
	number := make(map[int32]int, 8) // root corner -> index in bodies
	for t, tri := range m.Tris {
		r := root(tri[0])
		i, ok := number[r]
		if !ok {
			i = len(bodies)
			number[r] = i
			bodies = append(bodies, nil)
		}
		bodies[i] = append(bodies[i], int32(t))
	}
	return bodies
}

// FeatureEdges returns the edges worth drawing, as pairs of vertices, smaller
// first, in rising order: open ones, ones of more than two facets, and ones
// where the surface bends by more than angleRad. Winding does not matter. Edges
// beside a facet without area are left out unless they are open.
func FeatureEdges(m *Mesh, angleRad float64) [][2]int32 {
	keep := make([]bool, len(m.Tris))
	normals := make([]geom.Vec, len(m.Tris)) // zero where there is no area
	for t, tri := range m.Tris {
		keep[t] = tri[0] != tri[1] && tri[1] != tri[2] && tri[2] != tri[0]
		if a, b, c := m.Corners(t); !isFlat(a, b, c) {
			normals[t] = unitNormal(a, b, c)
		}
	}
	var found [][2]int32
	edgesOf(m, keep).each(func(e edge) {
		if len(e.uses) == 2 {
			x, y := e.uses[0], e.uses[1]
			n, o := normals[x.tri], normals[y.tri]
			if x.forward == y.forward {
				o = o.Mul(-1)
			}
			if n == (geom.Vec{}) || o == (geom.Vec{}) || bendRad(n, o) <= angleRad {
				return
			}
		}
		found = append(found, [2]int32{e.a, e.b})
	})
	return found
}

// bendRad returns the angle between two unit normals, 0..π.
func bendRad(n, o geom.Vec) float64 { return math.Atan2(n.Cross(o).Len(), n.Dot(o)) }
