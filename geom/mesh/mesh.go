package mesh

import "aftbay/geom"

// Mesh is a set of triangles over shared vertices, in the part frame, mm.
// It is read-only once made.
type Mesh struct {
	Verts []geom.Vec // corner points
	Tris  [][3]int32 // Tris[t]: vertex indices, counter-clockwise seen from outside
}

// Corners returns the three corner points of triangle t.
func (m *Mesh) Corners(t int) (a, b, c geom.Vec) {
	i := m.Tris[t]
	return m.Verts[i[0]], m.Verts[i[1]], m.Verts[i[2]]
}

// Box returns the least box around all vertices.
func (m *Mesh) Box() geom.Box {
	b := geom.EmptyBox()
	for _, v := range m.Verts {
		b = b.Grow(v)
	}
	return b
}

// Scaled returns the mesh with every coordinate multiplied by factor, which
// must be positive; the triangles are shared. A factor of 1 returns m itself.
func (m *Mesh) Scaled(factor float64) *Mesh {
	if factor == 1 {
		return m
	}
	s := &Mesh{Verts: make([]geom.Vec, len(m.Verts)), Tris: m.Tris}
	for i, v := range m.Verts {
		s.Verts[i] = v.Mul(factor)
	}
	return s
}
