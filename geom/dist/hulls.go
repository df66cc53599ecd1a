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
// by their distance.
func (h *hulls) try() {
	h.choose()
	if h.slabMM(h.along)-h.bendMM >= h.bestMM {
		return
	}
	near := triangles(h.ta, h.tb)
	if near.distMM2 > 0 {
		along := near.q.Sub(near.p).Mul(1 / math.Sqrt(near.distMM2))
		if h.slabMM(along)-h.bendMM >= h.bestMM {
			h.along = along // neighbours are likely to be parted the same way
			return
		}
	}
	g := convex(h.furthest, h.sizeMM)
	lowMM := g.lowMM - h.bendMM
	if lowMM >= h.bestMM {
		return
	}
	h.found, h.bestMM, h.highMM = true, max(0, lowMM), g.highMM
	h.at, h.along = g.at, g.along
}

// choose gives the turns to the smaller triangle and bounds their second order:
// half the square of all angles together times the distance from the pivots,
// and the turn of the shift itself.
func (h *hulls) choose() {
	if len(h.turns) == 0 {
		return
	}
	h.turnB = sizeMM2(h.tb) < sizeMM2(h.ta)
	t := h.ta
	if h.turnB {
		t = h.tb
	}
	var armMM2 float64
	for _, l := range h.turns {
		for _, p := range t {
			armMM2 = max(armMM2, p.Sub(l.pivot).LenSqr())
		}
	}
	h.bendMM = h.angle*h.angle/2*(math.Sqrt(armMM2)+h.shiftMM) + h.angle*h.shiftMM
}

// sizeMM2 returns the square of the longest edge.
func sizeMM2(t *bvh.Triangle) float64 {
	return max(t[1].Sub(t[0]).LenSqr(), t[2].Sub(t[1]).LenSqr(), t[0].Sub(t[2]).LenSqr())
}

// slabMM returns how far the hulls are apart along a unit direction from a to b:
// never more than their distance.
func (h *hulls) slabMM(along geom.Vec) float64 {
	shiftMM := math.Abs(h.half[0].Dot(along)) + math.Abs(h.half[1].Dot(along)) + math.Abs(h.half[2].Dot(along))
	turnsA, turnsB := h.turns, h.turns
	if h.turnB {
		turnsA = nil
	} else {
		turnsB = nil
	}
	return -highMM(h.tb, turnsB, along.Mul(-1)) - highMM(h.ta, turnsA, along) - shiftMM
}

// highMM returns how far a turned triangle reaches along a direction.
func highMM(t *bvh.Triangle, turns []lever, along geom.Vec) float64 {
	best := math.Inf(-1)
	for _, p := range t {
		d := p.Dot(along)
		for _, l := range turns {
			d += math.Abs(l.armAt(p).Dot(along))
		}
		best = max(best, d)
	}
	return best
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
