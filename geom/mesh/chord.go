package mesh

import (
	"math"

	"aftbay/geom"
)

// ChordsMM returns, for each triangle, how far the smooth surface it stands for
// may lie from it: the chord error of the export, an estimate. Neighbours that
// bend by up to smoothRad are taken for one smooth surface; a part with flat
// faces and sharp edges has none. len = len(m.Tris).
//
// Over an edge d whose ends have the normals n and o, a surface of normal
// curvature k stands k·|d|²/8 off the chord, and k·|d|² is (o-n)·d; a facet gets
// the largest value of its edges. The relative error is about a quarter of the
// bend in radians, squared.
//
// Source: sagitta of a circular arc, s = c²/(8r) for a short chord c; the
// curvature from end normals is the second fundamental form (from memory).
// Tested against shapes whose chord error is known.
func ChordsMM(m *Mesh, smoothRad float64) []float64 {
	weighted := make([][3]geom.Vec, len(m.Tris)) // unit normal times area and corner angle
	units := make([]geom.Vec, len(m.Tris))
	for t := range m.Tris {
		p, q, r := m.Corners(t)
		if isFlat(p, q, r) {
			continue
		}
		units[t] = unitNormal(p, q, r)
		corners := [3]geom.Vec{p, q, r}
		for k := range 3 {
			to, from := corners[(k+1)%3].Sub(corners[k]), corners[(k+2)%3].Sub(corners[k])
			weighted[t][k] = units[t].Mul(bendRad(to, from) * to.Cross(from).Len())
		}
	}
	start, around := cornersOf(m)
	leastCos := math.Cos(smoothRad)
	chords := make([]float64, len(m.Tris))
	for t, tri := range m.Tris {
		var normals [3]geom.Vec
		for k, v := range tri {
			for _, c := range around[start[v]:start[v+1]] {
				if units[c/3].Dot(units[t]) >= leastCos {
					normals[k] = normals[k].Add(weighted[c/3][c%3])
				}
			}
			if length := normals[k].Len(); length > 0 {
				normals[k] = normals[k].Mul(1 / length)
			}
		}
		for k := range 3 {
			d := m.Verts[tri[(k+1)%3]].Sub(m.Verts[tri[k]])
			chords[t] = max(chords[t], math.Abs(normals[(k+1)%3].Sub(normals[k]).Dot(d))/8)
		}
	}
	return chords
}

// cornersOf returns the facet corners at each vertex, as 3·triangle + corner:
// those of v are around[start[v]:start[v+1]].
func cornersOf(m *Mesh) (start, around []int32) {
	start = make([]int32, len(m.Verts)+2)
	for _, tri := range m.Tris {
		for _, v := range tri {
			start[v+2]++
		}
	}
	for v := range m.Verts {
		start[v+2] += start[v+1]
	}
	around = make([]int32, 3*len(m.Tris))
	for t, tri := range m.Tris {
		for k, v := range tri {
			around[start[v+1]] = int32(3*t + k)
			start[v+1]++
		}
	}
	return start[:len(m.Verts)+1], around
}
