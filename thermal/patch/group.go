package patch

import (
	"aftbay/geom"
)

// normalWeight sets how much a turn of the normal counts beside a move: with 1,
// a group that folds over a right angle is split before one that is as wide as
// three patch edges. Common practice, no source.
const normalWeight = 1

// grouper splits the triangles of one part into groups.
type grouper struct {
	set      *Set
	first    int          // first triangle of the part in the set
	edgeMM   float64      // wanted edge
	normals  []geom.Vec   // normals[t−first], unit, zero for slivers without area
	features [][6]float64 // Bare numbers: place in patch edges, then the unit normal
	// finer[t−first]: how many times smaller than usual its patch shall be.
	// Bare numbers: ratios.
	finer  []float64
	groups []group
}

// group is triangles that will be one patch.
type group struct {
	tris  []int32
	block int
	// scatterM2 is the area times the variance of place and normal; the group
	// with most, weighed by how much finer it shall be, is split next. splitAt is where, along feature axis.
	scatterM2 float64
	axis      int
	splitMean float64 // Bare numbers: in patch edges, or of a unit normal
}

func newGrouper(s *Set, first int, edgeMM float64) *grouper {
	n := len(s.Mesh.Tris) - first
	g := &grouper{set: s, first: first, edgeMM: edgeMM, normals: make([]geom.Vec, n), features: make([][6]float64, n)}
	all := group{tris: make([]int32, n)}
	for i := range n {
		a, b, c := s.Mesh.Corners(first + i)
		if cross := b.Sub(a).Cross(c.Sub(a)); cross.Len() > 0 {
			g.normals[i] = cross.Normalize()
		}
		mid := a.Add(b).Add(c).Mul(1 / (3 * edgeMM))
		for k := range 3 {
			g.features[i][k] = mid[k]
			g.features[i][3+k] = g.normals[i][k] * normalWeight
		}
		all.tris[i] = int32(first + i)
	}
	g.groups = []group{g.measured(all)}
	return g
}

// split makes the given number of groups, or as many as there are to be had;
// the first blocks of them number the blocks.
func (g *grouper) split(patches, blocks int) {
	for len(g.groups) < patches {
		worst := 0
		for i := range g.groups {
			if g.groups[i].scatterM2 > g.groups[worst].scatterM2 {
				worst = i
			}
		}
		if g.groups[worst].scatterM2 <= 0 {
			break
		}
		low, high := g.parted(g.groups[worst])
		if len(g.groups) < blocks {
			high.block = len(g.groups)
		}
		g.groups[worst] = low
		g.groups = append(g.groups, high)
	}
}

// parted returns the two halves of a group.
func (g *grouper) parted(c group) (low, high group) {
	low.block, high.block = c.block, c.block
	for _, t := range c.tris {
		if g.features[int(t)-g.first][c.axis] < c.splitMean {
			low.tris = append(low.tris, t)
		} else {
			high.tris = append(high.tris, t)
		}
	}
	return g.measured(low), g.measured(high)
}

// measured returns the group with its scatter and the cut that lowers it most.
func (g *grouper) measured(c group) group {
	var areaM2 float64
	var mean, square [6]float64
	for _, t := range c.tris {
		w := g.set.TriM2[t]
		areaM2 += w
		for k, f := range g.features[int(t)-g.first] {
			mean[k] += w * f
		}
	}
	c.scatterM2 = 0
	if areaM2 <= 0 || len(c.tris) < 2 {
		return c
	}
	for k := range mean {
		mean[k] /= areaM2
	}
	for _, t := range c.tris {
		w := g.set.TriM2[t]
		for k, f := range g.features[int(t)-g.first] {
			square[k] += w * (f - mean[k]) * (f - mean[k])
		}
	}
	for k := range square {
		c.scatterM2 += square[k]
		if square[k] > square[c.axis] {
			c.axis = k
		}
	}
	c.splitMean = mean[c.axis]
	if g.finer != nil {
		var finer float64
		for _, t := range c.tris {
			finer += g.set.TriM2[t] * g.finer[int(t)-g.first]
		}
		finer /= areaM2
		c.scatterM2 *= finer * finer * finer * finer // scatter goes with the area squared
	}
	if c.scatterM2 < areaM2*leastScatter || g.oneSided(c) {
		c.scatterM2 = 0
	}
	return c
}

// leastScatter is rounding: triangles that lie on each other are not split.
const leastScatter = 1e-12

// oneSided reports whether the cut would leave one half empty, which rounding
// can bring about.
func (g *grouper) oneSided(c group) bool {
	low := 0
	for _, t := range c.tris {
		if g.features[int(t)-g.first][c.axis] < c.splitMean {
			low++
		}
	}
	return low == 0 || low == len(c.tris)
}
