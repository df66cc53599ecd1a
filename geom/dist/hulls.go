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
	near := triangles(h.ta, h.tb)
	if near.distMM2 > 0 {
		c := h.slabAcross(near.q.Sub(near.p).Mul(1 / math.Sqrt(near.distMM2)))
		a, b := swung{tri: h.ta}, swung{tri: h.tb}
		c.lay(&a, 1)
		c.lay(&b, -1)
		if c.gapMM(&a, &b, h.turnB)-h.bendMM >= h.bestMM {
			h.slab = c // neighbours are likely to be parted the same way
			return true
		}
	}
	g := convex(h.furthest, h.sizeMM)
	lowMM := g.lowMM - h.bendMM
	if lowMM >= h.bestMM {
		return false
	}
	h.found, h.bestMM, h.highMM = true, max(0, lowMM), g.highMM
	h.at, h.slab = g.at, h.slabAcross(g.along)
	return true
}

// choose gives the turns to the smaller triangle. Their second order is half the
// square of all angles together times the distance from the pivots, and the turn
// of the shift itself.
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
	v := vertex{}
	for _, e := range h.half {
		if e.Dot(along) < 0 {
			e = e.Mul(-1)
		}
		v.mix.shift = v.mix.shift.Add(e)
	}
	if h.turnB {
		pb := h.extreme(h.tb, along.Mul(-1), -1, &v.mix)
		v.diff = corner(h.ta, along).Add(v.mix.shift).Sub(pb)
		return v
	}
	pa := h.extreme(h.ta, along, 1, &v.mix)
	v.diff = pa.Add(v.mix.shift).Sub(corner(h.tb, along.Mul(-1)))
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

// extreme returns the point of a turned triangle that lies furthest along a
// direction and notes the angles, ±1 for the largest; side is -1 when a's turns
// are seen from a, so that b goes the other way.
//
// Bare numbers: side is a sign.
func (h *hulls) extreme(t *bvh.Triangle, along geom.Vec, side float64, m *mix) geom.Vec {
	best, bestMM := geom.Vec{}, math.Inf(-1)
	for _, p := range t {
		at := p
		var signs [mostTurns]float64
		for k, l := range h.turns {
			arm := l.armAt(p)
			signs[k] = side
			if arm.Dot(along) < 0 {
				arm, signs[k] = arm.Mul(-1), -side
			}
			if k >= h.ofA {
				signs[k] = -signs[k]
			}
			at = at.Add(arm)
		}
		if d := at.Dot(along); d > bestMM {
			best, bestMM, m.turn = at, d, signs
		}
	}
	return best
}
