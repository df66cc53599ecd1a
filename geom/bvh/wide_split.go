package bvh

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// prim is the box of one triangle, relative to the origin, rounded outward.
type prim struct {
	lo, hi [3]float32
	tri    int32
}

// set fills in the box of triangle i.
func (p *prim) set(m *mesh.Mesh, origin geom.Vec, i int) {
	p.tri = int32(i)
	a, b, c := m.Corners(i)
	for k := range 3 {
		p.lo[k] = below(min(a[k], b[k], c[k]) - origin[k])
		p.hi[k] = -below(origin[k] - max(a[k], b[k], c[k]))
	}
}

// below returns the float32 below xMM, or the next one below that.
func below(xMM float64) float32 {
	b := math.Float32bits(float32(xMM))
	switch {
	case b == 0:
		return -math.SmallestNonzeroFloat32
	case b>>31 == 0:
		return math.Float32frombits(b - 1)
	}
	return math.Float32frombits(b + 1)
}

// twice returns twice the middle of the box.
func (p *prim) twice() [3]float32 {
	return [3]float32{p.lo[0] + p.hi[0], p.lo[1] + p.hi[1], p.lo[2] + p.hi[2]}
}

// box32 is an axis-aligned box.
type box32 struct{ lo, hi [3]float32 }

// empty32 returns the box of nothing.
func empty32() box32 {
	inf := float32(math.Inf(1))
	return box32{lo: [3]float32{inf, inf, inf}, hi: [3]float32{-inf, -inf, -inf}}
}

// grow widens the box over another.
func (b *box32) grow(lo, hi *[3]float32) {
	b.lo[0], b.lo[1], b.lo[2] = min(b.lo[0], lo[0]), min(b.lo[1], lo[1]), min(b.lo[2], lo[2])
	b.hi[0], b.hi[1], b.hi[2] = max(b.hi[0], hi[0]), max(b.hi[1], hi[1]), max(b.hi[2], hi[2])
}

// halfMM2 returns half the surface of a box that is not empty.
func (b *box32) halfMM2() float32 {
	x, y, z := b.hi[0]-b.lo[0], b.hi[1]-b.lo[1], b.hi[2]-b.lo[2]
	return x*y + y*z + z*x
}

// span is a run of triangles, with the box around them and the box around twice
// their boxes' middles.
type span struct {
	from, to int
	box, mid box32
}

func emptySpan(from, to int) span {
	return span{from: from, to: to, box: empty32(), mid: empty32()}
}

// add widens a span's boxes over a triangle.
func (s *span) add(p *prim) {
	s.box.grow(&p.lo, &p.hi)
	m := p.twice()
	s.mid.grow(&m, &m)
}

// wideBin is what lies in one slice of a span.
type wideBin struct {
	box   box32
	count int32
}

// slicing says how a span is cut into bins along each axis.
type slicing struct {
	lo, perMM [3]float32
	most      int32
}

// slice returns the slicing of a span into n bins; an axis along which the
// middles coincide has but one.
func slice(s *span, n int) (c slicing) {
	c.lo, c.most = s.mid.lo, int32(n-1)
	for k := range 3 {
		if size := s.mid.hi[k] - s.mid.lo[k]; size > 0 {
			c.perMM[k] = float32(n) / size
		}
	}
	return c
}

// bin returns the bin of a triangle along an axis.
func (c *slicing) bin(p *prim, axis int) int32 {
	return min(int32((p.lo[axis]+p.hi[axis]-c.lo[axis])*c.perMM[axis]), c.most)
}

// split sorts a span of more than a block into two and returns both: by the cut
// of the least cost, or in the middle where there is none or the tree grows too
// deep.
func (b *wideBuilder) split(s *span, depth int) (left, right span) {
	c := slice(s, min(bins, s.to-s.from))
	axis, cut := -1, int32(0)
	if depth < wideSAHDepth {
		axis, cut = b.cheapest(s, &c)
	}
	if axis < 0 {
		mid := (s.from + s.to) / 2
		left, right = emptySpan(s.from, mid), emptySpan(mid, s.to)
		for i := s.from; i < mid; i++ {
			left.add(&b.prims[i])
		}
		for i := mid; i < s.to; i++ {
			right.add(&b.prims[i])
		}
		return left, right
	}
	left, right = emptySpan(s.from, s.from), emptySpan(s.to, s.to)
	for left.to < right.from {
		p := &b.prims[left.to]
		if c.bin(p, axis) < cut {
			left.add(p)
			left.to++
			continue
		}
		right.add(p)
		right.from--
		*p, b.prims[right.from] = b.prims[right.from], *p
	}
	return left, right
}

// cheapest returns the axis and the first bin of the right side of the cut with
// the least cost; axis -1 where all middles coincide.
func (b *wideBuilder) cheapest(s *span, c *slicing) (axis int, cut int32) {
	var all [3][bins]wideBin
	for k := range all {
		for i := range c.most + 1 {
			all[k][i].box = empty32()
		}
	}
	for i := s.from; i < s.to; i++ {
		p := &b.prims[i]
		for k := range 3 {
			bin := &all[k][c.bin(p, k)]
			bin.count++
			bin.box.grow(&p.lo, &p.hi)
		}
	}
	axis, best := -1, float32(math.Inf(1))
	for k := range 3 {
		if at, costMM2 := cheapestCut(all[k][:c.most+1]); costMM2 < best {
			axis, cut, best = k, at, costMM2
		}
	}
	return axis, cut
}

// cheapestCut returns where to cut between bins: at the least sum of box areas
// times blocks; infinite cost where one side would be empty.
func cheapestCut(all []wideBin) (cut int32, costMM2 float32) {
	var rightMM2 [bins]float32 // rightMM2[k]: cost of bins k and above
	box, n := empty32(), int32(0)
	for k := len(all) - 1; k > 0; k-- {
		rightMM2[k] = float32(math.Inf(1))
		if all[k].count > 0 {
			box.grow(&all[k].box.lo, &all[k].box.hi)
			n += all[k].count
		}
		if n > 0 {
			rightMM2[k] = box.halfMM2() * blocksOf(n)
		}
	}
	box, n = empty32(), 0
	costMM2 = float32(math.Inf(1))
	for k := 1; k < len(all); k++ {
		if all[k-1].count == 0 {
			continue
		}
		box.grow(&all[k-1].box.lo, &all[k-1].box.hi)
		n += all[k-1].count
		if sumMM2 := box.halfMM2()*blocksOf(n) + rightMM2[k]; sumMM2 < costMM2 {
			cut, costMM2 = int32(k), sumMM2
		}
	}
	return cut, costMM2
}

// blocksOf returns how many blocks hold n triangles.
func blocksOf(n int32) float32 { return float32((n + blockLanes - 1) / blockLanes) }

// emptyNode returns a node without children.
func emptyNode() (n wideNode) {
	none := empty32()
	for k := range lanes {
		n.setBox(k, &none)
	}
	return n
}

// setBox sets the box of a lane.
func (n *wideNode) setBox(lane int, b *box32) {
	for axis := range 3 {
		n.planes[axis][0][lane], n.planes[axis][1][lane] = b.lo[axis], b.hi[axis]
	}
}
