package radiate

import (
	"math"
	"math/bits"
	"math/rand/v2"

	"aftbay/geom"
)

// dimensions of a sample: a place on the patch (2) and a direction (2).
const dimensions = 4

// directions[d][k]: Sobol direction number k of dimension d, in the top bits.
type directions [dimensions][32]uint32

// sobol is how a dimension's direction numbers begin: degree and inner
// coefficients of its primitive polynomial, and the first odd numbers.
//
// Source: Joe & Kuo 2008, dimensions 2 to 4 (from memory; the tests check that
// every dimension, and every pair, fills its strata).
type sobol struct {
	degree, inner uint32
	first         []uint32
}

// newDirections returns the direction numbers of all dimensions.
func newDirections() *directions {
	var v directions
	for k := range 32 {
		v[0][k] = 1 << (31 - k)
	}
	for i, s := range []sobol{{1, 0, []uint32{1}}, {2, 1, []uint32{1, 3}}, {3, 1, []uint32{1, 3, 1}}} {
		d := &v[i+1]
		n := int(s.degree)
		for k := range 32 {
			if k < n {
				d[k] = s.first[k] << (31 - k)
				continue
			}
			d[k] = d[k-n] ^ d[k-n]>>n
			for j := 1; j < n; j++ {
				if s.inner>>(n-1-j)&1 == 1 {
					d[k] ^= d[k-j]
				}
			}
		}
	}
	return &v
}

// stream deals the shifted Sobol points of one patch.
type stream struct {
	of    *directions
	x     [dimensions]uint32
	shift [dimensions]uint32
	n     uint32
}

// newStream returns the points of patch number id.
func newStream(of *directions, seed, id uint64) stream {
	r := rand.New(rand.NewPCG(seed, id))
	s := stream{of: of}
	for d := range s.shift {
		s.shift[d] = r.Uint32()
	}
	return s
}

// next returns the next point, each coordinate in [0, 1). Bare numbers: places
// in the unit cube.
func (s *stream) next() (point [dimensions]float64) {
	for d := range point {
		point[d] = (float64(s.x[d]^s.shift[d]) + 0.5) * 0x1p-32
	}
	s.n++
	k := bits.TrailingZeros32(s.n) // order of the Gray code
	for d := range s.x {
		s.x[d] ^= s.of[d][k&31]
	}
	return point
}

// cosineDir returns a direction about a unit normal with cosine weight.
// Source: r = √u, φ = 2πv is the area-true map of the unit disc (Malley).
func cosineDir(normal geom.Vec, u, v float64) geom.Vec {
	r, sin, cos := math.Sqrt(u), 0.0, 0.0
	sin, cos = math.Sincos(2 * math.Pi * v)
	a, b := across(normal)
	z := math.Sqrt(1 - u)
	var dir geom.Vec
	for k := range dir {
		dir[k] = r*(cos*a[k]+sin*b[k]) + z*normal[k]
	}
	return dir
}

// across returns two unit vectors square to a unit vector and each other.
// Source: T. Duff et al., J. Computer Graphics Techniques 6(1), 2017 (memory).
func across(n geom.Vec) (a, b geom.Vec) {
	sign := math.Copysign(1, n[2])
	h := -1 / (sign + n[2])
	xy := n[0] * n[1] * h
	return geom.Vec{1 + sign*n[0]*n[0]*h, sign * xy, -sign * n[0]}, geom.Vec{xy, sign + n[1]*n[1]*h, -n[1]}
}
