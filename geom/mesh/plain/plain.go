package plain

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
)

// Brick returns a closed box from its least to its greatest corner.
func Brick(lo, hi geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		v := lo
		for k := range 3 {
			if i>>k&1 == 1 {
				v[k] = hi[k]
			}
		}
		m.Verts = append(m.Verts, v)
	}
	for _, f := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Tris = append(m.Tris, [3]int32{f[0], f[1], f[2]}, [3]int32{f[0], f[2], f[3]})
	}
	return m
}

// Sheet returns a sheet of nu × nv cells from a map of the unit square; its
// outside is ∂u × ∂v.
func Sheet(nu, nv int, at func(u, v float64) geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for j := range nv + 1 {
		for i := range nu + 1 {
			m.Verts = append(m.Verts, at(float64(i)/float64(nu), float64(j)/float64(nv)))
		}
	}
	for j := range nv {
		for i := range nu {
			a := int32(j*(nu+1) + i)
			b, c, d := a+1, a+int32(nu)+1, a+int32(nu)+2
			m.Tris = append(m.Tris, [3]int32{a, b, d}, [3]int32{a, d, c})
		}
	}
	return m
}

// Flipped turns the facets of m over, in place, and returns it.
func Flipped(m *mesh.Mesh) *mesh.Mesh {
	for i, t := range m.Tris {
		m.Tris[i] = [3]int32{t[0], t[2], t[1]}
	}
	return m
}
