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

// point is a place in the unit cube, each coordinate the middle of one of 2^32
// equal steps.
type point [dimensions]uint32

// unit returns a coordinate as a number in (0, 1). Bare number: a place in the unit
// cube.
func unit(x uint32) float64 { return (float64(x) + 0.5) * 0x1p-32 }

// next makes p the next point.
func (s *stream) next(p *point) {
	for d := range p {
		p[d] = s.x[d] ^ s.shift[d]
	}
	s.n++
	step := &s.of[bits.TrailingZeros32(s.n)&31] // order of the Gray code
	for d := range s.x {
		s.x[d] ^= step[d]
	}
}

// around is a unit normal with two unit vectors square to it and each other.
type around struct{ normal, a, b geom.Vec }

// newAround returns the frame about a unit normal.
func newAround(normal geom.Vec) (f around) {
	f.set(normal[0], normal[1], normal[2])
	return f
}

// set makes the frame that about a unit normal. Bare numbers: its components.
// Source: T. Duff et al., J. Computer Graphics Techniques 6(1), 2017 (memory).
func (f *around) set(x, y, z float64) {
	sign := math.Copysign(1, z)
	h := -1 / (sign + z)
	xy := x * y * h
	f.normal[0], f.normal[1], f.normal[2] = x, y, z
	f.a[0], f.a[1], f.a[2] = 1+sign*x*x*h, sign*xy, -sign*x
	f.b[0], f.b[1], f.b[2] = xy, sign+y*y*h, -y
}

// cosineDir returns a direction about the normal with cosine weight.
func (f *around) cosineDir(c *circle, u, v float64) (dir geom.Vec) {
	f.cosine(c, u, v, &dir)
	return dir
}

// cosine is cosineDir written to its place.
// Source: r = √u, φ = 2πv is the area-true map of the unit disc (Malley).
func (f *around) cosine(c *circle, u, v float64, dir *geom.Vec) {
	cos, sin := c.at(v)
	r, z := math.Sqrt(u), math.Sqrt(1-u)
	x, y := r*cos, r*sin
	dir[0] = x*f.a[0] + y*f.b[0] + z*f.normal[0]
	dir[1] = x*f.a[1] + y*f.b[1] + z*f.normal[1]
	dir[2] = x*f.a[2] + y*f.b[2] + z*f.normal[2]
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
