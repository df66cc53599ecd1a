package bvh

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// boxed is the box of a triangle while a tree is built, relative to the origin,
// rounded outward: 32 bytes, one load. The upper corner is kept negative, so that
// a box grows by the smaller of each number.
type boxed struct {
	lo   [3]float32
	tag  uint32     // the triangle, and tagMark
	less [3]float32 // minus the upper corner
	_    uint32
}

// tagMark makes the tag the bits of an ordinary float32, which costs nothing to
// calculate with, as the kernel does for want of anything better to do.
const tagMark = 1 << 30

// set fills in the box of triangle i.
func (b *boxed) set(m *mesh.Mesh, origin geom.Vec, i int) {
	b.tag = uint32(i) | tagMark
	p, q, r := m.Corners(i)
	for k := range 3 {
		b.lo[k] = below(min(p[k], q[k], r[k]) - origin[k])
		b.less[k] = below(origin[k] - max(p[k], q[k], r[k]))
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

func (b *boxed) triangle() int32 { return int32(b.tag &^ tagMark) }

// reach is a box in the same form.
type reach struct {
	lo   [3]float32
	cut  float32 // of no meaning, as end: what the kernel leaves there
	less [3]float32
	end  float32
}

// nothing is the box of nothing.
func nothing() (r reach) {
	inf := float32(math.Inf(1))
	return reach{lo: [3]float32{inf, inf, inf}, less: [3]float32{inf, inf, inf}}
}

// grow widens r over lo and minus the upper corner.
func (r *reach) grow(lo, less *[3]float32) {
	for k := range 3 {
		if lo[k] < r.lo[k] {
			r.lo[k] = lo[k]
		}
		if less[k] < r.less[k] {
			r.less[k] = less[k]
		}
	}
}

// halfMM2 returns half the surface of a box that is not empty.
func (r *reach) halfMM2() float32 {
	x, y, z := -(r.lo[0] + r.less[0]), -(r.lo[1] + r.less[1]), -(r.lo[2] + r.less[2])
	return float32(x*y) + float32(y*z) + float32(z*x)
}

// run is a stretch of triangles, with the box around them and the box around
// twice their boxes' middles.
type run struct {
	from, to int
	box, mid reach
}

// runOf returns the run of list[from:to].
func runOf(list []boxed, from, to int) run {
	r := run{from: from, to: to, box: nothing(), mid: nothing()}
	for i := from; i < to; i++ {
		b := &list[i]
		r.box.grow(&b.lo, &b.less)
		var mid, less [3]float32
		for k := range 3 {
			mid[k] = b.lo[k] - b.less[k]
			less[k] = -mid[k]
		}
		r.mid.grow(&mid, &less)
	}
	return r
}

// slicing8 says how a run is cut into bins along each axis, in the form that the
// kernel loads.
type slicing8 struct {
	lo    [4]float32 // least of twice the middles
	perMM [4]float32 // bins per mm of them; 0 where they coincide
	most  [4]float32 // the last bin
	count int32
}

// slicing returns the slicing of a run.
func (r *run) slicing() (s slicing8) {
	s.count = int32(min(bins, r.to-r.from))
	for k := range 3 {
		s.lo[k], s.most[k] = r.mid.lo[k], float32(s.count-1)
		if size := -r.mid.less[k] - r.mid.lo[k]; size > 0 {
			s.perMM[k] = float32(s.count) / size
		}
	}
	return s
}

// bin returns the bin of a triangle along an axis.
func (s *slicing8) bin(b *boxed, axis int) int {
	x := float32(float32(b.lo[axis]-b.less[axis])-s.lo[axis]) * s.perMM[axis]
	switch {
	case !(x > 0):
		return 0
	case !(x < s.most[axis]):
		return int(s.most[axis])
	}
	return int(x)
}
