package dist

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// TestBendLeast: random polynomials of the second degree in up to six turns,
// against all corners and many points between. Where each slope keeps its sign
// the least is exact.
func TestBendLeast(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 1))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	exact := 0
	for trial := range 3000 {
		turns := trial % (mostTurns + 1)
		var b bend
		square := math.Pow(10, in(2))
		for k := range bendTerms(turns) {
			b[k] = in(1)
			if k > turns {
				b[k] *= square
			}
		}
		value := func(at *spread) float64 {
			sum := b[0]
			for i := range turns {
				sum += b[1+i] * at[i]
				for j := i; j < turns; j++ {
					sum += b[b.term(i, j, turns)] * at[i] * at[j]
				}
			}
			return sum
		}
		leastMM, where := b.least(turns)
		if got := value(&where); got < leastMM-1e-12 {
			t.Fatalf("trial %d: %g where the least of %g is said to be", trial, got, leastMM)
		}
		least := math.Inf(1)
		for n := range 200 {
			var at spread
			for k := range turns {
				at[k] = float64(2*(n>>k&1) - 1)
				if n >= 1<<turns {
					at[k] = in(1)
				}
			}
			least = min(least, value(&at))
			if value(&at) < leastMM-1e-12*(1+square) {
				t.Fatalf("trial %d, %d turns: %g at %v, below the bound %g", trial, turns, value(&at), at, leastMM)
			}
		}
		steady := true
		for i := range turns {
			steady = steady && math.Abs(b[1+i]) >= b.slopeMM(i, turns, 1<<turns-1)
		}
		if steady {
			exact++
			if math.Abs(least-leastMM) > 1e-12*(1+square) {
				t.Fatalf("trial %d: steady slopes, least %g, bound %g", trial, least, leastMM)
			}
		}
	}
	if exact < 300 {
		t.Errorf("only %d steady polynomials", exact)
	}
}

// tiltCase is a random pair of triangles in a random sweep.
type tiltCase struct {
	s      *sweptSearch
	ta, tb bvh.Triangle
}

func newTiltCase(rng *rand.Rand, angle float64) *tiltCase {
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	c := &tiltCase{s: &sweptSearch{bestMM: math.Inf(1), highMM: math.Inf(1), sizeMM: 500, toA: geom.Identity(), toB: geom.Identity()}}
	s := c.s
	s.turns = rng.IntN(mostTurns + 1)
	s.ofA = min(3, rng.IntN(s.turns+1))
	s.turns = min(s.turns, s.ofA+3)
	for k := range s.turns {
		s.axis[k] = gauss(rng).Normalize().Mul(angle * rng.Float64())
		body := 0
		if k >= s.ofA {
			body = 1
		}
		s.angle[body] += s.axis[k].Len()
	}
	for k := range 2 {
		s.pivot[k] = geom.Vec{in(200), in(200), in(200)}
	}
	frame := geom.Turn(geom.Vec{in(3), in(3), in(3)})
	for k := range 3 {
		s.half[k] = frame.Col(k).Mul(rng.Float64() * 40)
	}
	for k := range 3 {
		c.ta[k] = geom.Vec{in(30), in(30), in(30)}
		c.tb[k] = geom.Vec{60 + in(30), in(30), in(30)}
	}
	return c
}

// posed returns the distance of the triangles at the given turns and the given
// ends of the shift, by rotations as such.
func (c *tiltCase) posed(at *spread, ends geom.Vec) float64 {
	a, b := c.ta, c.tb
	for k := range 3 {
		for i := range c.s.turns {
			angle := c.s.axis[i].Len()
			r := mgl64.QuatRotate(at[i]*angle, c.s.axis[i].Mul(1/angle))
			if i < c.s.ofA {
				a[k] = r.Rotate(a[k].Sub(c.s.pivot[0])).Add(c.s.pivot[0])
			} else {
				b[k] = r.Rotate(b[k].Sub(c.s.pivot[1])).Add(c.s.pivot[1])
			}
		}
		for i, e := range c.s.half {
			a[k] = a[k].Add(e.Mul(ends[i]))
		}
	}
	return math.Sqrt(triangles(&a, &b).distMM2)
}

// TestTiltHolds: whatever plane is taken, however it leans and wherever from, no
// pose is nearer than its bound. Truth: the plain distance of the two triangles,
// turned by rotations as such, at corners of the sweep and between.
func TestTiltHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 1))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	useful := 0
	for trial := range trials(400, 20000) {
		c := newTiltCase(rng, math.Pow(10, -2.5*rng.Float64()))
		l := leaning{refMM: 40 * rng.Float64() * float64(trial%3)}
		for k := range c.s.turns {
			l.from[k] = in(1)
		}
		along := trial%4 == 1 // the shift goes along the plane, so either end may be nearer
		if along {
			l.from, c.s.half = spread{}, [3]geom.Vec{}
		}
		if trial%4 > 0 { // a good plane, which holds by a hair
			g, near := c.s.between(&c.ta, &c.tb, &l.from)
			if g.highMM == 0 {
				continue
			}
			l.along, l.near = g.along, near
			c.s.lean(&l, &g, &c.ta, &c.tb)
			if along {
				c.s.half[1] = l.along.Cross(gauss(rng)).Normalize().Mul(2)
			}
		} else {
			l.along, l.near = geom.Vec{1, in(0.3), in(0.3)}.Normalize(), geom.Vec{30 + in(30), in(30), in(30)}
			for k := range c.s.turns {
				w := gauss(rng).Mul(c.s.axis[k].Len() * rng.Float64())
				l.w[k] = w.Sub(l.along.Mul(w.Dot(l.along)))
			}
		}
		plane := c.s.tilted(&l)
		a, b := laid{tri: &c.ta}, laid{tri: &c.tb}
		plane.lay(&a, 0)
		plane.lay(&b, 1)
		fullMM, where := plane.apartMM(&a, &b)
		lowMM := max(fullMM, plane.quickMM(&a, &b)) // mostly the full one, but both must hold
		if lowMM > 0 {
			useful++
		}
		for n := range 150 {
			var at spread
			ends := geom.Vec{in(1), in(1), in(1)}
			for k := range c.s.turns {
				at[k] = in(1)
			}
			if n%2 == 0 {
				for k := range at {
					at[k] = math.Copysign(1, in(1))
				}
				for k := range ends {
					ends[k] = math.Copysign(1, ends[k])
				}
			}
			if n < 8 {
				at, ends = where, geom.Vec{float64(1 - n&1*2), float64(1 - n>>1&1*2), float64(1 - n>>2&1*2)}
			}
			if got := c.posed(&at, ends); got < lowMM-1e-9 {
				t.Fatalf("trial %d: %.9f mm in a pose, bound %.9f", trial, got, lowMM)
			}
		}
	}
	if useful < 100 {
		t.Errorf("only %d bounds say anything", useful)
	}
}

// TestTiltClosesWithTheSquare: over sweeps of a tenth of the angle the bound of a
// pair comes some hundred times nearer to the least distance, whatever is
// nearest, corners, edges or faces. A bound of first order would come ten times
// nearer.
func TestTiltClosesWithTheSquare(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 1))
	open := [2]float64{}
	for range trials(150, 2000) {
		c := newTiltCase(rng, 0.05)
		c.s.half = [3]geom.Vec{}
		for round := range 2 {
			s := *c.s
			s.bestMM, s.highMM = math.Inf(1), math.Inf(1)
			s.tilt = s.tilted(&leaning{})
			a, b := laid{tri: &c.ta}, laid{tri: &c.tb}
			s.tilt.lay(&a, 0)
			s.tilt.lay(&b, 1)
			s.try(&a, &b)
			if s.bestMM == 0 {
				break // they meet
			}
			open[round] += s.highMM - s.bestMM
			for k := range s.turns {
				c.s.axis[k] = s.axis[k].Mul(0.1)
			}
			c.s.angle[0] *= 0.1
			c.s.angle[1] *= 0.1
		}
	}
	if open[1] > open[0]/40 {
		t.Errorf("open %g mm in all, %g mm at a tenth of the angles", open[0], open[1])
	}
}
