package radiate

import (
	"math"
	"math/bits"
	"math/rand/v2"

	"aftbay/geom"
)

// dimensions of a sample: a place on the patch (2) and a direction (2).
const dimensions = 4

// directions[k][d]: Sobol direction number k of dimension d, in the top bits.
type directions [32][dimensions]uint32

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
	for k := range v {
		v[k][0] = 1 << (31 - k)
	}
	for i, s := range []sobol{{1, 0, []uint32{1}}, {2, 1, []uint32{1, 3}}, {3, 1, []uint32{1, 3, 1}}} {
		d, n := i+1, int(s.degree)
		for k := range v {
			if k < n {
				v[k][d] = s.first[k] << (31 - k)
				continue
			}
			v[k][d] = v[k-n][d] ^ v[k-n][d]>>n
			for j := 1; j < n; j++ {
				if s.inner>>(n-1-j)&1 == 1 {
					v[k][d] ^= v[k-j][d]
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
	step := &s.of[bits.TrailingZeros32(s.n)&31] // order of the Gray code
	for d := range s.x {
		s.x[d] ^= step[d]
	}
	return point
}

// around is a unit normal with two unit vectors square to it and each other.
type around struct{ normal, a, b geom.Vec }

// newAround returns the frame about a unit normal.
func newAround(normal geom.Vec) around {
	a, b := across(normal)
	return around{normal, a, b}
}

// cosineDir returns a direction about the normal with cosine weight.
// Source: r = √u, φ = 2πv is the area-true map of the unit disc (Malley).
func (f *around) cosineDir(c *circle, u, v float64) (dir geom.Vec) {
	cos, sin := c.at(v)
	r, z := math.Sqrt(u), math.Sqrt(1-u)
	x, y := r*cos, r*sin
	for k := range dir {
		dir[k] = x*f.a[k] + y*f.b[k] + z*f.normal[k]
	}
	return dir
}

// circleParts is the number of arcs of a circle.
const circleParts = 1024

// circle holds cosine and sine of the ends of equal arcs.
type circle [circleParts + 1][2]float64

func newCircle() *circle {
	var c circle
	for i := range c {
		sin, cos := math.Sincos(2 * math.Pi / circleParts * float64(i))
		c[i] = [2]float64{cos, sin}
	}
	return &c
}

// at returns cosine and sine of a share of a turn, 0 to 1, to 1e-13: from the start of
// its arc by series.
func (c *circle) at(share float64) (cos, sin float64) {
	place := share * circleParts
	i := int(place) & (circleParts - 1)
	d := (place - float64(i)) * (2 * math.Pi / circleParts)
	d2 := d * d
	dCos, dSin := 1-d2*(1.0/2-d2*(1.0/24)), d*(1-d2*(1.0/6-d2*(1.0/120)))
	from := &c[i]
	return from[0]*dCos - from[1]*dSin, from[1]*dCos + from[0]*dSin
}

// across returns two unit vectors square to a unit vector and each other.
// Source: T. Duff et al., J. Computer Graphics Techniques 6(1), 2017 (memory).
func across(n geom.Vec) (a, b geom.Vec) {
	sign := math.Copysign(1, n[2])
	h := -1 / (sign + n[2])
	xy := n[0] * n[1] * h
	return geom.Vec{1 + sign*n[0]*n[0]*h, sign * xy, -sign * n[0]}, geom.Vec{xy, sign + n[1]*n[1]*h, -n[1]}
}
