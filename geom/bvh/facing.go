package bvh

import (
	"math"
	bitset "math/bits"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
)

// side takes points of one tree to points relative to the other's origin.
type side struct {
	r   mgl64.Mat3
	t   geom.Vec
	abs mgl64.Mat3 // sizes of the entries of r

	// How far points may move, along the axes of the other tree and of this one.
	drift, ownDrift geom.Vec

	// slackMM covers the rounding of all that is computed about two boxes.
	slackMM float64
}

func sideOf(to geom.Pose) side {
	s := side{r: to.R, t: to.T}
	for k, x := range to.R {
		s.abs[k] = math.Abs(x)
	}
	return s
}

// facing is a box of one tree as it stands in the frame of another, in float32
// for the kernels: a straight box around its straight box, rounded outward, and
// its oriented box, with half edges that cover rounding.
type facing struct {
	lo, hi    [3]float32
	mid, half [3]float32
	axis      [3][3]float32
}

// slackShare covers, as a share of the size S of all that stands together, what
// float32 makes of the gap of two oriented boxes along an axis of either. S is at
// least the distance of the middles, and at least half the diagonals of both.
// With u = 2^-24: the rounded middle, the difference of the middles and its
// product with an axis are off by at most 9·u·S, the products of the axes times
// the half edges and their sums by 16·u·S; and float32 axes are not quite at
// right angles (nonOrthogonal). Together below 2.6e-6·S.
const slackShare = 3e-6

// face fills in how a lane of an octet stands after to.
func (f *facing) face(o *octet, lane int32, to *side) {
	lane &= lanes - 1
	r, s := &to.r, &to.abs
	var mid, half, turned, turnedHalf geom.Vec
	for k := range 3 {
		lo, hi := float64(o.lo[k][lane]), float64(o.hi[k][lane])
		mid[k], half[k] = 0.5*(lo+hi), 0.5*(hi-lo)
		turned[k], turnedHalf[k] = float64(o.mid[k][lane]), float64(o.half[k][lane])
	}
	for k := range 3 {
		m := r[k]*mid[0] + r[k+3]*mid[1] + r[k+6]*mid[2] + to.t[k]
		reach := s[k]*half[0] + s[k+3]*half[1] + s[k+6]*half[2] + to.drift[k]
		lo, hi := m-reach, m+reach
		pad := 1e-9 * to.slackMM // of the numbers above, in float64
		f.lo[k] = float32(lo - (stepAbove*math.Abs(lo) + pad))
		f.hi[k] = float32(hi + (stepAbove*math.Abs(hi) + pad))
		f.mid[k] = float32(r[k]*turned[0] + r[k+3]*turned[1] + r[k+6]*turned[2] + to.t[k])
	}
	for k := range 3 {
		x, y, z := float64(o.axis[k][0][lane]), float64(o.axis[k][1][lane]), float64(o.axis[k][2][lane])
		h := turnedHalf[k] + to.slackMM
		for c := range 3 {
			a := r[c]*x + r[c+3]*y + r[c+6]*z
			f.axis[k][c] = float32(a)
			h += math.Abs(a) * to.drift[c]
		}
		f.half[k] = float32(h * (1 + stepAbove))
	}
}

// stepAbove is the relative step of float32: adding it before rounding leaves the
// result at least as large.
const stepAbove = 0x1p-23

// near is what is known of the eight boxes of an octet against one other.
type near struct {
	gapMM   [lanes]float32 // at most the true distance
	midsMM2 [lanes]float32 // squared distance of the middles
}

// farthestFirst sorts the lanes of within, the farthest first, so that the
// nearest comes to lie on top of a stack: order[i] holds the gap in its upper
// half, below it the squared distance of the middles, and the lane in the lowest
// bits. It returns how many there are.
func (n *near) farthestFirst(within uint32, order *[lanes]uint64) (count int) {
	for ; within != 0; within &= within - 1 {
		i := bitset.TrailingZeros32(within) & (lanes - 1)
		key := uint64(math.Float32bits(n.gapMM[i]))<<32 | uint64(math.Float32bits(n.midsMM2[i])&^(lanes-1)) | uint64(i)
		j := count & (lanes - 1)
		for ; j > 0 && order[j-1] < key; j-- {
			order[j] = order[j-1]
		}
		order[j] = key
		count++
	}
	return count
}

const (
	// shrink takes off a distance what rounding of squares, sums and roots may
	// have added, as a ratio: some ten roundings, generously.
	shrink = 1 - 0x1p-19
	// leastReachMM keeps squares of the reach in range; no gap lies between it
	// and zero that the kernels could tell.
	leastReachMM = 1e-18
	// mostMM is the size up to which squares stay in range.
	mostMM = 1e17
)

// plainNear bounds the distance of each box of an octet to f and returns, bit by
// lane, which come nearer than reachMM; only those are filled in. reachMM2 is
// the square of what a bare distance must reach, see reachOf.
//
// It is the same bit for bit as nearAVX2: float32 alone, no fused
// multiply-add, the same order.
//
// Long on purpose: a kernel, in the order of its twin in assembly.
func plainNear(o *octet, f *facing, reachMM, reachMM2 float32, out *near) (within uint32) {
	var straight [lanes]float32
	for i := range lanes {
		var sum float32
		for k := range 3 {
			g := greater(greater(o.lo[k][i]-f.hi[k], f.lo[k]-o.hi[k][i]), 0)
			sum += float32(g * g)
		}
		straight[i] = sum
		if sum < reachMM2 {
			within |= 1 << i
		}
	}
	if within == 0 {
		return 0
	}
	within = 0
	for i := range lanes {
		dx, dy, dz := f.mid[0]-o.mid[0][i], f.mid[1]-o.mid[1][i], f.mid[2]-o.mid[2][i]
		out.midsMM2[i] = float32(float32(dx*dx)+float32(dy*dy)) + float32(dz*dz)
		var own float32
		var span [3]float32
		for k := range 3 {
			x, y, z, half := o.axis[k][0][i], o.axis[k][1][i], o.axis[k][2][i], o.half[k][i]
			g := size(float32(float32(x*dx)+float32(y*dy))+float32(z*dz)) - half
			for l := range 3 {
				m := size(float32(float32(x*f.axis[l][0])+float32(y*f.axis[l][1])) + float32(z*f.axis[l][2]))
				g -= float32(m * f.half[l])
				span[l] += float32(m * half)
			}
			g = greater(g, 0)
			own += float32(g * g)
		}
		var other float32
		for l := range 3 {
			b := &f.axis[l]
			g := size(float32(float32(dx*b[0])+float32(dy*b[1])) + float32(dz*b[2]))
			g = greater(float32(g-f.half[l])-span[l], 0)
			other += float32(g * g)
		}
		most := greater(greater(straight[i], own), other)
		out.gapMM[i] = float32(math.Sqrt(float64(most))) * shrink
		if out.gapMM[i] < reachMM {
			within |= 1 << i
		}
	}
	return within
}

// greater is the larger of two numbers as the processor's MAXPS has it: the
// second where one is not a number. Bare numbers: of whatever unit.
func greater(x, y float32) float32 {
	if x > y {
		return x
	}
	return y
}

// size returns |x|. Bare numbers: of whatever unit.
func size(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// reachOf returns a reach in float32, rounded up, and its square, larger by what
// shrink takes off.
func reachOf(reachMM float64) (mm, mm2 float32) {
	mm = max(float32(reachMM*(1+stepAbove)), leastReachMM)
	return mm, mm * mm * (1 + 0x1p-17)
}
