package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// hulls is one pair of swept triangles. The smaller one takes all the turns, as
// seen from the larger one; the shift is a's.
type hulls struct {
	*sweptSearch
	ta, tb *bvh.Triangle
	turnB  bool    // tb takes the turns
	bendMM float64 // what the second order of the turns can do
}

// try settles the pair: by a plane between the hulls where that is enough, else
// by their distance. It reports whether the slab of the search is another one.
func (h *hulls) try() bool {
	if h.parted(&h.slab) {
		return false
	}
	start := h.slab.along
	if near := triangles(h.ta, h.tb); near.distMM2 > 0 {
		c := h.slabAcross(near.q.Sub(near.p).Mul(1 / math.Sqrt(near.distMM2)))
		if h.parted(&c) {
			h.slab = c // neighbours are likely to be parted the same way
			return true
		}
		start = c.along
	}
	g := convex(h.furthest, start, h.sizeMM, h.bestMM+h.bendMM)
	lowMM := g.lowMM - h.bendMM
	if lowMM >= h.bestMM {
		return false
	}
	h.found, h.bestMM, h.highMM = true, max(0, lowMM), g.highMM
	h.at, h.slab = g.at, h.slabAcross(g.along)
	return true
}

// parted reports whether the slab alone says that the pair does not matter.
func (h *hulls) parted(c *slab) bool {
	return c.exactMM(h.ta, h.tb, h.turnB)-h.bendMM >= h.bestMM
}

// choose gives the turns to the smaller triangle. Their second order is half the
// square of all angles together times the distance from the pivots.
func (h *hulls) choose(a, b *swung) {
	h.turnB = b.edgeMM2 < a.edgeMM2
	h.bendMM = a.bendMM
	if h.turnB {
		h.bendMM = b.bendMM
	}
}

// furthest returns the corner of (hull of a) − (hull of b) that lies furthest
// along a direction.
func (h *hulls) furthest(along geom.Vec) vertex {
	if h.turnB {
		v := h.extreme(h.tb, along, -1)
		v.diff = v.diff.Add(corner(h.ta, along))
		return v
	}
	v := h.extreme(h.ta, along, 1)
	v.diff = v.diff.Sub(corner(h.tb, along.Mul(-1)))
	return v
}

// corner returns the corner of a triangle that lies furthest along a direction.
func corner(t *bvh.Triangle, along geom.Vec) geom.Vec {
	best := t[0]
	for _, p := range t[1:] {
		if p.Dot(along) > best.Dot(along) {
			best = p
		}
	}
	return best
}

// extreme returns the point of the triangle that takes the turns, shifted and
// turned, that lies furthest along a direction, and the angles, ±1 for the
// largest. The side is +1 for a triangle of a; -1 for one of b, which is then
// seen from a: mirrored, with the shift added, and turned the other way.
//
// Bare numbers: side is a sign.
func (h *hulls) extreme(t *bvh.Triangle, along geom.Vec, side float64) vertex {
	c := h.slabAcross(along)
	k, ends, _ := c.furthest(t, side, h.turnB)
	var v vertex
	for i, e := range h.half {
		v.mix.shift = v.mix.shift.Add(e.Mul(ends[i]))
	}
	v.diff = v.mix.shift.Add(t[k].Mul(side))
	for i, l := range h.turns {
		arm := h.arm(i, t[k], v.mix.shift, side).Sub(l.pivot)
		sign := math.Copysign(1, arm.Dot(c.arm[i]))
		v.diff = v.diff.Add(l.axis.Cross(arm).Mul(sign))
		// Turns of the other body go the other way, mirrored or not.
		v.mix.turn[i] = sign
		if i >= h.ofA {
			v.mix.turn[i] = -sign
		}
	}
	return v
}

// arm returns the point that turn i turns: the triangle's own, shifted where the
// turn is the other body's.
//
// Bare numbers: side is a sign.
func (h *hulls) arm(i int, p, shift geom.Vec, side float64) geom.Vec {
	if i < h.ofA != h.turnB {
		return p
	}
	return p.Add(shift.Mul(side))
}
