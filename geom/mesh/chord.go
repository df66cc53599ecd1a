package mesh

import (
	"math"

	"aftbay/geom"
)

// Chords tells, of a triangle, how far the smooth surface it stands for may lie
// from it: the chord error of the export, an estimate. Neighbours that bend by up
// to an angle are taken for one smooth surface; a part with flat faces and sharp
// edges has none. It is read-only once made.
//
// Over an edge d whose ends have the normals n and o, a surface of normal
// curvature k stands k·|d|²/8 off the chord, and k·|d|² is (o-n)·d; a facet gets
// the largest value of its edges. The relative error is about a quarter of the
// bend in radians, squared.
//
// Source: sagitta of a circular arc, s = c²/(8r) for a short chord c; the
// curvature from end normals is the second fundamental form (from memory).
// Tested against shapes whose chord error is known.
type Chords struct {
	mesh          *Mesh
	leastCos      float64 // of the bend of neighbours on one surface
	start, around []int32 // see cornersOf
}

// NewChords prepares the chord errors of m for bends of up to smoothRad. Cost:
// linear, a few nanoseconds a triangle.
func NewChords(m *Mesh, smoothRad float64) *Chords {
	c := &Chords{mesh: m, leastCos: math.Cos(smoothRad)}
	c.start, c.around = cornersOf(m)
	return c
}

// AtMM returns the chord error of triangle t.
func (c *Chords) AtMM(t int) (mostMM float64) {
	return c.atMM(t, -1, nil)
}

// AroundMM returns the largest chord error of the triangles around corner v.
func (c *Chords) AroundMM(v int32) (mostMM float64) {
	ring := c.ring(nil, v)
	for _, at := range c.around[c.start[v]:c.start[v+1]] {
		mostMM = max(mostMM, c.atMM(int(at/3), v, ring))
	}
	return mostMM
}

// atMM returns the chord error of triangle t; the ring of corner known is given.
func (c *Chords) atMM(t int, known int32, knownRing []spoke) (mostMM float64) {
	tri := c.mesh.Tris[t]
	own := c.unit(t)
	var normals [3]geom.Vec
	var room [16]spoke
	for k, v := range tri {
		ring := knownRing
		if v != known {
			ring = c.ring(room[:0], v)
		}
		for i := range ring {
			if ring[i].unit.Dot(own) >= c.leastCos {
				normals[k] = normals[k].Add(ring[i].weighted)
			}
		}
		if length := normals[k].Len(); length > 0 {
			normals[k] = normals[k].Mul(1 / length)
		}
	}
	for k := range 3 {
		d := c.mesh.Verts[tri[(k+1)%3]].Sub(c.mesh.Verts[tri[k]])
		mostMM = max(mostMM, math.Abs(normals[(k+1)%3].Sub(normals[k]).Dot(d))/8)
	}
	return mostMM
}

// spoke is a triangle at a corner: its unit normal, and that times its area and
// its angle there.
type spoke struct{ unit, weighted geom.Vec }

// ring appends the triangles around corner v to list.
func (c *Chords) ring(list []spoke, v int32) []spoke {
	for _, at := range c.around[c.start[v]:c.start[v+1]] {
		unit := c.unit(int(at / 3))
		list = append(list, spoke{unit, c.weighted(int(at/3), int(at%3), unit)})
	}
	return list
}

// unit returns the unit normal of a triangle, zero where it has no area.
func (c *Chords) unit(t int) geom.Vec {
	p, q, r := c.mesh.Corners(t)
	if isFlat(p, q, r) {
		return geom.Vec{}
	}
	return unitNormal(p, q, r)
}

// weighted returns the unit normal of a triangle times its area and its angle at
// a corner.
func (c *Chords) weighted(t, corner int, unit geom.Vec) geom.Vec {
	at := c.mesh.Tris[t]
	p := c.mesh.Verts[at[corner]]
	to, from := c.mesh.Verts[at[(corner+1)%3]].Sub(p), c.mesh.Verts[at[(corner+2)%3]].Sub(p)
	return unit.Mul(bendRad(to, from) * to.Cross(from).Len())
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
