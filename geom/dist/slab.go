package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// swung is a triangle in a sweep, with what a slab knows of it.
type swung struct {
	tri     *bvh.Triangle
	edgeMM2 float64 // square of the longest edge
	bendMM  float64 // what the second order of the turns can do if it takes them

	// How far it reaches across the slab, towards the other body: as it stands,
	// and when it takes all the turns.
	plainMM, turnedMM float64
}

// swing prepares a triangle.
func (s *sweptSearch) swing(t *bvh.Triangle) swung {
	w := swung{tri: t, edgeMM2: edgeMM2(t)}
	if len(s.turns) == 0 {
		return w
	}
	var armMM2 float64
	for i := range s.turns {
		pivot := &s.turns[i].pivot
		for k := range t {
			x, y, z := t[k][0]-pivot[0], t[k][1]-pivot[1], t[k][2]-pivot[2]
			armMM2 = max(armMM2, x*x+y*y+z*z)
		}
	}
	w.bendMM = s.angle * s.angle / 2 * (math.Sqrt(armMM2) + s.shiftMM)
	return w
}

// edgeMM2 returns the square of the longest edge.
func edgeMM2(t *bvh.Triangle) float64 {
	return max(t[1].Sub(t[0]).LenSqr(), t[2].Sub(t[1]).LenSqr(), t[0].Sub(t[2]).LenSqr())
}

// slab measures how far swept triangles are apart along one direction: never
// more than their distance.
type slab struct {
	along   geom.Vec // unit direction from a to b, or zero
	shiftMM float64  // how far the shift reaches along it
	turns   int
	ofA     int                 // how many of the turns are a's
	arm     [mostTurns]geom.Vec // what a turn does along it, per point
	armMM   [mostTurns]float64  // the same for the pivot

	half   geom.Vec            // what the half edges of the shift box reach along it, signed
	turned [mostTurns]geom.Vec // what a turn of them does along it
	// What the turns of the shift can add when the triangles of a or b take all.
	extraMM [2]float64
}

// slabAcross returns the slab for a direction.
func (s *sweptSearch) slabAcross(along geom.Vec) slab {
	c := slab{along: along, shiftMM: s.shiftAlongMM(along), turns: len(s.turns), ofA: s.ofA}
	for k, e := range s.half {
		c.half[k] = e.Dot(along)
	}
	for i, l := range s.turns {
		c.arm[i] = along.Cross(l.axis) // (axis × p) · along = (along × axis) · p
		c.armMM[i] = c.arm[i].Dot(l.pivot)
		taker := 0 // the triangle of the other body
		if i < s.ofA {
			taker = 1
		}
		for k, e := range s.half {
			c.turned[i][k] = c.arm[i].Dot(e)
			c.extraMM[taker] += math.Abs(c.turned[i][k])
		}
	}
	return c
}

// lay fills in how far a triangle reaches along the direction times the sign.
//
// Bare numbers: sign is +1 for triangles of a, -1 for those of b.
func (c *slab) lay(w *swung, sign float64) {
	w.plainMM, w.turnedMM = math.Inf(-1), math.Inf(-1)
	for k := range w.tri {
		p := &w.tri[k]
		plainMM := sign * (p[0]*c.along[0] + p[1]*c.along[1] + p[2]*c.along[2])
		turnedMM := plainMM
		for i := range c.turns {
			a := &c.arm[i]
			turnedMM += math.Abs(a[0]*p[0] + a[1]*p[1] + a[2]*p[2] - c.armMM[i])
		}
		w.plainMM, w.turnedMM = max(w.plainMM, plainMM), max(w.turnedMM, turnedMM)
	}
}

// gapMM returns a quick bound on how far the hulls of a pair are apart along the
// direction.
func (c *slab) gapMM(a, b *swung, turnB bool) float64 {
	if turnB {
		return -b.turnedMM - a.plainMM - c.shiftMM - c.extraMM[1]
	}
	return -b.plainMM - a.turnedMM - c.shiftMM - c.extraMM[0]
}

// exactMM returns how far the hulls of a pair are apart along the direction.
func (c *slab) exactMM(ta, tb *bvh.Triangle, turnB bool) float64 {
	if turnB {
		return -c.reachMM(tb, -1, turnB) - corner(ta, c.along).Dot(c.along)
	}
	return corner(tb, c.along.Mul(-1)).Dot(c.along) - c.reachMM(ta, 1, turnB)
}

// reachMM returns how far a triangle that takes all turns reaches along the
// direction times the sign, with the shift.
//
// Bare numbers: sign is +1 for triangles of a, -1 for those of b.
func (c *slab) reachMM(t *bvh.Triangle, sign float64, turnB bool) float64 {
	_, _, mostMM := c.furthest(t, sign, turnB)
	return mostMM
}

// furthest returns the corner of the triangle and the corner of the shift box, as
// ±1 of each half edge, that together reach furthest, and how far.
//
// Bare numbers: signs.
func (c *slab) furthest(t *bvh.Triangle, sign float64, turnB bool) (k int, shift geom.Vec, mostMM float64) {
	mostMM = math.Inf(-1)
	var ends [8]geom.Vec
	ends[0] = geom.Vec{math.Copysign(1, c.half[0]), math.Copysign(1, c.half[1]), math.Copysign(1, c.half[2])}
	count := 1
	if foreign := c.turns - c.ofA; turnB && c.ofA > 0 || !turnB && foreign > 0 {
		count = 8 // the shift turns too: any of its corners may be the one
		for i := range ends {
			ends[i] = geom.Vec{float64(1 - i&1*2), float64(1 - i>>1&1*2), float64(1 - i>>2&1*2)}
		}
	}
	for i := range t {
		p := &t[i]
		var arm [mostTurns]float64
		for n := range c.turns {
			a := &c.arm[n]
			arm[n] = a[0]*p[0] + a[1]*p[1] + a[2]*p[2] - c.armMM[n]
		}
		ownMM := sign * (p[0]*c.along[0] + p[1]*c.along[1] + p[2]*c.along[2])
		for e := range ends[:count] {
			s := &ends[e]
			sumMM := ownMM + s[0]*c.half[0] + s[1]*c.half[1] + s[2]*c.half[2]
			for n := range c.turns {
				x := arm[n]
				if (n < c.ofA) == turnB {
					w := &c.turned[n]
					x += sign * (s[0]*w[0] + s[1]*w[1] + s[2]*w[2])
				}
				sumMM += math.Abs(x)
			}
			if sumMM > mostMM {
				k, shift, mostMM = i, *s, sumMM
			}
		}
	}
	return k, shift, mostMM
}
