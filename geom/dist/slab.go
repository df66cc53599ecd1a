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
	w.bendMM = s.angle*s.angle/2*(math.Sqrt(armMM2)+s.shiftMM) + s.angle*s.shiftMM
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
	arm     [mostTurns]geom.Vec // what a turn does along it, per point
	armMM   [mostTurns]float64  // the same for the pivot
}

// slabAcross returns the slab for a direction.
func (s *sweptSearch) slabAcross(along geom.Vec) slab {
	c := slab{along: along, shiftMM: s.shiftAlongMM(along), turns: len(s.turns)}
	for i, l := range s.turns {
		c.arm[i] = along.Cross(l.axis) // (axis × p) · along = (along × axis) · p
		c.armMM[i] = c.arm[i].Dot(l.pivot)
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

// gapMM returns how far the hulls of a pair are apart along the direction.
func (c *slab) gapMM(a, b *swung, turnB bool) float64 {
	if turnB {
		return -b.turnedMM - a.plainMM - c.shiftMM
	}
	return -b.plainMM - a.turnedMM - c.shiftMM
}
