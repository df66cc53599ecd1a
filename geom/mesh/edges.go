package mesh

import "slices"

// edge is a pair of corners a < b and the facets that use it.
type edge struct {
	a, b int32
	uses []edgeUse // in triangle order
}

// edgeUse is one facet on an edge.
type edgeUse struct {
	far     int32 // the larger corner index
	tri     int32
	forward bool // the facet runs from the smaller to the larger corner
}

// edgeTable holds the uses of all edges, sorted by the edges' corners.
type edgeTable struct {
	ends []int     // ends[v]: where the uses with smaller corner v begin; len = len(Verts)+1
	uses []edgeUse // in one bucket per smaller corner, there by far
}

// edgesOf returns the edges of the facets for which keep is true; an edge from a
// corner to itself is left out. Linear time for meshes of bounded fan size.
func edgesOf(m *Mesh, keep []bool) edgeTable {
	// Sort the uses into one bucket per smaller corner.
	e := edgeTable{ends: make([]int, len(m.Verts)+1)}
	eachUse(m, keep, func(near int32, _ edgeUse) { e.ends[near+1]++ })
	for v := range m.Verts {
		e.ends[v+1] += e.ends[v]
	}
	e.uses = make([]edgeUse, e.ends[len(m.Verts)])
	fill := slices.Clone(e.ends[:len(m.Verts)])
	eachUse(m, keep, func(near int32, u edgeUse) {
		e.uses[fill[near]] = u
		fill[near]++
	})
	// Inside a bucket bring equal far corners together.
	for v := range m.Verts {
		slices.SortStableFunc(e.uses[e.ends[v]:e.ends[v+1]], func(x, y edgeUse) int { return int(x.far - y.far) })
	}
	return e
}

// each calls do for every edge by rising corner indices.
func (e edgeTable) each(do func(e edge)) {
	for v := range len(e.ends) - 1 {
		bucket := e.uses[e.ends[v]:e.ends[v+1]]
		for len(bucket) > 0 {
			n := 1
			for n < len(bucket) && bucket[n].far == bucket[0].far {
				n++
			}
			do(edge{a: int32(v), b: bucket[0].far, uses: bucket[:n]})
			bucket = bucket[n:]
		}
	}
}

// eachUse calls do with the smaller corner and the use, three times a facet.
func eachUse(m *Mesh, keep []bool, do func(near int32, u edgeUse)) {
	for t, tri := range m.Tris {
		if !keep[t] {
			continue
		}
		for k := range 3 {
			switch from, to := tri[k], tri[(k+1)%3]; {
			case from < to:
				do(from, edgeUse{far: to, tri: int32(t), forward: true})
			case from > to:
				do(to, edgeUse{far: from, tri: int32(t)})
			}
		}
	}
}
