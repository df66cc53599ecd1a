package bvh

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
)

// shells returns the bodies of m that hang together by shared corners, in the
// order of their first triangles, and of[t], the body of triangle t (nil when
// there is only one).
func shells(m *mesh.Mesh) (out []Shell, of []int32) {
	root := make([]int32, len(m.Verts)) // root[v]: parent of corner v in its body
	for i := range root {
		root[i] = int32(i)
	}
	find := func(v int32) int32 {
		for root[v] != v {
			root[v] = root[root[v]]
			v = root[v]
		}
		return v
	}
	for _, t := range m.Tris {
		a := find(t[0])
		for _, v := range t[1:] {
			root[find(v)] = a
		}
	}
	of = make([]int32, len(m.Tris))
	at := make(map[int32]int, 1) // at[root]: place in out
	for i, t := range m.Tris {
		r := find(t[0])
		k, seen := at[r]
		if !seen {
			k = len(out)
			at[r] = k
			out = append(out, Shell{Point: m.Verts[t[0]], Box: geom.EmptyBox(), Tri: i})
		}
		of[i] = int32(k)
		for _, v := range t {
			out[k].Box = out[k].Box.Grow(m.Verts[v])
		}
	}
	if len(out) < 2 {
		of = nil
	}
	return out, of
}
