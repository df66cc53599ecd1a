package mesh

import (
	"math"

	"aftbay/geom"
)

// Faces tells which facets of a mesh belong to one flat or round face of what
// the mesh stands for. It is read-only once made.
type Faces struct {
	mesh    *Mesh
	normals []geom.Vec // unit, zero where there is no area
	beside  [][3]int32 // beside[t]: facets across the edges of facet t, -1 for none
}

// NewFaces returns the faces of a mesh, in time linear in its size.
func NewFaces(m *Mesh) *Faces {
	f := &Faces{mesh: m, normals: make([]geom.Vec, len(m.Tris)), beside: make([][3]int32, len(m.Tris))}
	keep := make([]bool, len(m.Tris))
	count := make([]int8, len(m.Tris))
	for t, tri := range m.Tris {
		keep[t] = tri[0] != tri[1] && tri[1] != tri[2] && tri[2] != tri[0]
		f.beside[t] = [3]int32{-1, -1, -1}
		if a, b, c := m.Corners(t); !isFlat(a, b, c) {
			f.normals[t] = unitNormal(a, b, c)
		}
	}
	edgesOf(m, keep).each(func(e edge) {
		if len(e.uses) != 2 {
			return
		}
		for k, u := range e.uses {
			if n := count[u.tri]; n < 3 {
				f.beside[u.tri][n] = e.uses[1-k].tri
				count[u.tri]++
			}
		}
	})
	return f
}

// grow returns the facets connected with tri over facets for which belongs is
// true, tri first.
func (f *Faces) grow(tri int32, belongs func(t int32) bool) []int32 {
	found, seen := []int32{tri}, map[int32]bool{tri: true}
	for i := 0; i < len(found); i++ {
		for _, t := range f.beside[found[i]] {
			if t >= 0 && !seen[t] {
				seen[t] = true
				if belongs(t) {
					found = append(found, t)
				}
			}
		}
	}
	return found
}

const (
	// flatRad is the bend up to which facets count as one flat face: float32
	// corners of small facets turn them by less. Common practice, no source.
	flatRad = 0.2 * math.Pi / 180
	// smoothRad is the bend up to which facets may stand for one round face.
	smoothRad = 40 * math.Pi / 180
	// roundShare and roundMM are how far the corners of a round face may lie off
	// it: of the radius, and what float32 corners and exporters' rounding take.
	roundShare, roundMM = 0.0005, 0.005
)

// Flat returns the unit normal of the flat face that a facet belongs to, the mean
// over its area, and its facets. ok is false for a facet without area.
func (f *Faces) Flat(tri int) (normal geom.Vec, facets []int32, ok bool) {
	if tri < 0 || tri >= len(f.normals) || f.normals[tri] == (geom.Vec{}) {
		return normal, nil, false
	}
	first := f.normals[tri]
	facets = f.grow(int32(tri), func(t int32) bool { return f.bend(first, t) <= flatRad })
	for _, t := range facets {
		a, b, c := f.mesh.Corners(int(t))
		n := b.Sub(a).Cross(c.Sub(a))
		if n.Dot(first) < 0 {
			n = n.Mul(-1)
		}
		normal = normal.Add(n)
	}
	return normal.Normalize(), facets, true
}

// bend returns the angle between a unit normal and that of a facet, whichever way
// its winding, 0..π/2; π for a facet without area.
func (f *Faces) bend(n geom.Vec, t int32) (rad float64) {
	if f.normals[t] == (geom.Vec{}) {
		return math.Pi
	}
	rad = bendRad(n, f.normals[t])
	return min(rad, math.Pi-rad)
}
