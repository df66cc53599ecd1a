package dist

import (
	"math"
	"math/bits"

	"aftbay/geom"
)

// mostBits is how many bits whole numbers may have so that the sum of six
// products of three stays within 128: corners of float32, up to a million times
// as far apart as their steps.
const mostBits = 40

// wide is a whole number of 128 bits, in two's complement.
type wide struct {
	hi int64
	lo uint64
}

// times returns x·y.
func times(x, y int64) wide {
	hi, lo := bits.Mul64(uint64(x), uint64(y))
	return wide{int64(hi) - x>>63&y - y>>63&x, lo}
}

func (x wide) plus(y wide) wide {
	lo, carry := bits.Add64(x.lo, y.lo, 0)
	return wide{x.hi + y.hi + int64(carry), lo}
}

func (x wide) minus(y wide) wide {
	lo, borrow := bits.Sub64(x.lo, y.lo, 0)
	return wide{x.hi - y.hi - int64(borrow), lo}
}

// by returns x·y.
func (x wide) by(y int64) wide {
	low := wide{lo: x.lo}
	hi, lo := bits.Mul64(low.lo, uint64(y))
	return wide{int64(hi) - y>>63&int64(low.lo) + x.hi*y, lo}
}

func (x wide) sign() int {
	switch {
	case x.hi < 0:
		return -1
	case x.hi > 0 || x.lo > 0:
		return 1
	}
	return 0
}

// wholeDifferences returns a-b of each pair as whole numbers times one common
// power of two; ok is false where one is rounded or they do not fit mostBits.
//
// Bare numbers: it serves any quantity.
func wholeDifferences(pairs [][2]float64, out []int64) (ok bool) {
	lowest, highest := math.MaxInt, math.MinInt
	var mantissa [9]int64
	var exponent [9]int
	for i, p := range pairs {
		d := p[0] - p[1]
		// What rounding took from the difference.
		// Source: D. Knuth, "The art of computer programming", volume 2, 4.2.2
		// (from memory).
		b := p[0] - d
		if (p[0]-(d+b))+(b-p[1]) != 0 {
			return false
		}
		if d == 0 {
			continue
		}
		word := math.Float64bits(d)
		mantissa[i], exponent[i] = int64(word&(1<<52-1)), int(word>>52&2047)
		if exponent[i] == 0 || exponent[i] == 2047 {
			return false
		}
		mantissa[i] |= 1 << 52
		zeros := bits.TrailingZeros64(uint64(mantissa[i]))
		mantissa[i] >>= zeros
		exponent[i] += zeros
		lowest, highest = min(lowest, exponent[i]), max(highest, exponent[i]+53-zeros)
		if d < 0 {
			mantissa[i] = -mantissa[i]
		}
	}
	if highest-lowest > mostBits {
		return false
	}
	for i := range pairs {
		out[i] = 0
		if mantissa[i] != 0 {
			out[i] = mantissa[i] << (exponent[i] - lowest)
		}
	}
	return true
}

// orientWhole is orient where the differences to d are whole numbers of few bits.
func orientWhole(a, b, c, d geom.Vec) (sign int, ok bool) {
	var pairs [9][2]float64
	var n [9]int64
	for k := range 3 {
		pairs[k], pairs[3+k], pairs[6+k] = [2]float64{a[k], d[k]}, [2]float64{b[k], d[k]}, [2]float64{c[k], d[k]}
	}
	if !wholeDifferences(pairs[:], n[:]) {
		return 0, false
	}
	x, y, z := n[0:3], n[3:6], n[6:9]
	det := times(y[0], z[1]).minus(times(z[0], y[1])).by(x[2])
	det = det.plus(times(z[0], x[1]).minus(times(x[0], z[1])).by(y[2]))
	return det.plus(times(x[0], y[1]).minus(times(y[0], x[1])).by(z[2])).sign(), true
}

// crossWhole is crossExact where the differences are whole numbers of few bits.
func crossWhole(a, b, c, d geom.Vec, l, m int) (sign int, ok bool) {
	pairs := [4][2]float64{{b[l], a[l]}, {d[m], c[m]}, {b[m], a[m]}, {d[l], c[l]}}
	var n [4]int64
	if !wholeDifferences(pairs[:], n[:]) {
		return 0, false
	}
	return times(n[0], n[1]).minus(times(n[2], n[3])).sign(), true
}
