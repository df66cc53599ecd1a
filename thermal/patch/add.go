package patch

import (
	"math"

	"aftbay/geom"
)

// piece says how one part is to be cut.
type piece struct {
	patches, blocks int
	wantMM, areaMM2 float64
	near            *nearness
}

// add appends one part's triangles and patches.
func (s *Set) add(part int, b Body, posed []geom.Vec, p piece) {
	edgeMM := math.Max(p.wantMM, math.Sqrt(p.areaMM2/float64(p.patches)))
	s.EdgesMM = []float64{edgeMM}
	first := len(s.Mesh.Tris)
	cut := cutter{set: s, part: int32(part), longestMM: edgeMM * longestShare, near: p.near}
	base := int32(len(s.Mesh.Verts))
	s.Mesh.Verts = append(s.Mesh.Verts, posed...)
	for t, tri := range b.Mesh.Tris {
		cut.source = int32(t)
		cut.halve([3]int32{base + tri[0], base + tri[1], base + tri[2]}, 0)
	}
	g := newGrouper(s, first, edgeMM)
	g.finer = make([]float64, len(s.Mesh.Tris)-first)
	for i := range g.finer {
		a, b, c := s.Mesh.Corners(first + i)
		g.finer[i] = p.near.finer(part, a.Add(b).Add(c).Mul(1.0/3))
	}
	g.groups[0] = g.measured(g.groups[0])
	g.split(p.patches, p.blocks)
	s.take(g, Patch{Part: part})
	if !b.Closed {
		s.take(g, Patch{Part: part, Inner: true, Blind: !b.InnerRadiates})
	}
}

const (
	// longestShare: a triangle may be this much longer than a patch edge. A
	// right-angled one with equal legs has the area of a patch then.
	longestShare = 2
	// deepest bounds the halving of one triangle: 2^20 pieces.
	deepest = 20
)

// cutter halves triangles of one part.
type cutter struct {
	set          *Set
	part, source int32
	longestMM    float64
	near         *nearness
}

// halve appends the triangle, or its halves across the longest edge while that
// is too long. Neighbours halve their common edge at the same point, so that a
// closed surface stays closed to rounding.
func (c *cutter) halve(t [3]int32, depth int) {
	v := c.set.Mesh.Verts
	k, longest := 0, -1.0
	for i := range 3 {
		if l := v[t[i]].Sub(v[t[(i+1)%3]]).Len(); l > longest {
			k, longest = i, l
		}
	}
	a, b, d := v[t[0]], v[t[1]], v[t[2]]
	if depth >= deepest || longest <= c.longestMM && longest*c.near.finer(int(c.part), a.Add(b).Add(d).Mul(1.0/3)) <= c.longestMM {
		s := c.set
		s.Mesh.Tris = append(s.Mesh.Tris, t)
		s.PartOf, s.SourceOf = append(s.PartOf, c.part), append(s.SourceOf, c.source)
		s.TriM2 = append(s.TriM2, b.Sub(a).Cross(d.Sub(a)).Len()/2*mm2ToM2)
		s.OuterOf, s.InnerOf = append(s.OuterOf, -1), append(s.InnerOf, -1)
		return
	}
	i, j, o := t[k], t[(k+1)%3], t[(k+2)%3]
	mid := int32(len(v))
	c.set.Mesh.Verts = append(v, v[i].Add(v[j]).Mul(0.5))
	c.halve([3]int32{i, mid, o}, depth+1)
	c.halve([3]int32{mid, j, o}, depth+1)
}

// take turns the groups of one side into patches like the given one.
func (s *Set) take(g *grouper, like Patch) {
	firstBlock := s.Blocks
	for _, c := range g.groups {
		id := int32(len(s.Patches))
		p := like
		p.Block = firstBlock + c.block
		for _, t := range c.tris {
			tri := int(t)
			a, b, d := s.Mesh.Corners(tri)
			p.AreaM2 += s.TriM2[tri]
			p.CenterMM = p.CenterMM.Add(a.Add(b).Add(d).Mul(s.TriM2[tri] / 3))
			p.Normal = p.Normal.Add(g.normals[tri-g.first].Mul(s.TriM2[tri]))
			if p.Inner {
				s.InnerOf[tri] = id
			} else {
				s.OuterOf[tri] = id
			}
		}
		if p.AreaM2 > 0 {
			p.CenterMM, p.Normal = p.CenterMM.Mul(1/p.AreaM2), p.Normal.Mul(1/p.AreaM2)
		}
		if p.Inner {
			p.Normal = p.Normal.Mul(-1)
		}
		p.Tris = c.tris
		s.Patches = append(s.Patches, p)
		s.Blocks = max(s.Blocks, p.Block+1)
	}
}
