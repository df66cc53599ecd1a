package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Sweep is a motion of two bodies about the poses they stand in: turns of
// either about its pivots, then a shift of the first one.
type Sweep struct {
	Shift        geom.Box // of the first body, vehicle axes
	TurnA, TurnB []Turn   // six at most, together
}

// Turn is a rotation between −HalfRad and HalfRad. Several turns of a body are
// one rotation with these derivatives, such as a product of turns about axes.
type Turn struct {
	Pivot, Axis geom.Vec // vehicle frame; Axis is a unit vector
	HalfRad     float64
}

// SweptResult is the least clearance over a sweep.
type SweptResult struct {
	GapMM        float64   // without turns: the least distance, exactly; 0 when the surfaces meet somewhere
	LowMM        float64   // no motion of the sweep comes nearer than this
	AtLeast      bool      // the search stopped at the distance asked for: GapMM is that
	Shift        geom.Vec  // shift of the first body where GapMM is reached
	TurnA, TurnB []float64 // Bare numbers: rad, one for each Turn, near where LowMM is reached
}

// Swept returns the least distance of the surfaces of a and b over a sweep,
// without sampling. A distance of enoughMM or more is not looked for. Both
// bodies must have triangles.
//
// With shifts alone GapMM is exact. With turns LowMM is a certain lower bound
// that closes with the square of the angles where a corner meets a face, and
// with the size of the smaller triangle times the angle where edges meet.
//
// It knows surfaces only: a body that stays wholly inside the other has a
// distance here; see Between.
//
// Method: to first order a turned triangle lies in the hull of its corners at
// all extreme angles, a convex set, also when shifted; the turns of both bodies
// are given to the smaller triangle, seen from the larger one. The distance of
// the hulls is found by convex, and what the second order can do is taken off.
// Most pairs are settled by a plane between them.
func Swept(a, b Body, m Sweep, enoughMM float64) SweptResult {
	mid := m.Shift.Center()
	a.Pose.T = a.Pose.T.Add(mid)
	s := &sweptSearch{a: a.Tree, b: b.Tree, bestMM: enoughMM}
	s.toA = bvh.Between(a.Tree, b.Tree, a.Pose, b.Pose)
	drift := s.place(a, b, m)
	bvh.PairsMoving(a.Tree, b.Tree, s.toA, drift, max(s.bestMM, bvh.Touch), s)
	roundMM := errorMM(a, b)
	if !s.found {
		return SweptResult{GapMM: enoughMM, LowMM: max(0, enoughMM-roundMM), AtLeast: true}
	}
	r := SweptResult{
		GapMM: s.highMM, LowMM: max(0, s.bestMM-roundMM),
		Shift: clamp(a.Pose.Dir(s.at.shift).Add(mid), m.Shift),
	}
	for i, t := range m.TurnA {
		r.TurnA = append(r.TurnA, s.at.turn[i]*t.HalfRad)
	}
	for i, t := range m.TurnB {
		r.TurnB = append(r.TurnB, s.at.turn[len(m.TurnA)+i]*t.HalfRad)
	}
	return r
}

// clamp puts a point that rounding has moved out of the box back into it.
func clamp(p geom.Vec, b geom.Box) geom.Vec {
	for k := range p {
		p[k] = min(max(p[k], b.Min[k]), b.Max[k])
	}
	return p
}

// sweptSearch is the walk of Swept, in the frame of a's tree.
type sweptSearch struct {
	a, b    *bvh.Tree
	toA     geom.Pose
	half    [3]geom.Vec // half edges of the shift box
	turns   []lever     // of a, then of b
	ofA     int         // how many of them are a's
	angle   float64     // Bare numbers: rad, sum of all largest angles
	shiftMM float64     // half the diagonal of the shift box
	sizeMM  float64     // of everything, for rounding
	bestMM  float64     // least bound so far
	highMM  float64     // least distance of the hulls that gave it
	found   bool
	at      mix
	slab    slab // across the direction that parted the last pair; zero at first
}

// place takes the motion into the frame of a's tree, relative to its origin, and
// returns how far it may bring any two points together.
func (s *sweptSearch) place(a, b Body, m Sweep) bvh.Drift {
	back := a.Pose.Inverse()
	half := m.Shift.Size().Mul(0.5)
	for k := range 3 {
		s.half[k] = back.R.Col(k).Mul(half[k])
	}
	s.shiftMM = half.Len()
	s.sizeMM = a.Tree.Box().DiagonalMM() + b.Tree.Box().DiagonalMM() + s.shiftMM
	s.lever(m.TurnA, m.Shift.Center(), back)
	s.ofA = len(s.turns)
	s.lever(m.TurnB, geom.Vec{}, back)
	cornersA, cornersB := a.Tree.Box().Corners(), b.Tree.Box().Corners()
	for i := range cornersA {
		cornersA[i] = cornersA[i].Sub(a.Tree.Origin())
		cornersB[i] = s.toA.Point(cornersB[i].Sub(b.Tree.Origin()))
	}
	var d bvh.Drift
	for k := range 3 {
		axis := geom.Vec{}
		axis[k] = 1
		d.InA[k] = s.driftMM(axis, &cornersA, &cornersB)
		d.InB[k] = s.driftMM(s.toA.R.Col(k), &cornersA, &cornersB)
	}
	return d
}

// lever adds the turns of one body.
func (s *sweptSearch) lever(turns []Turn, shifted geom.Vec, back geom.Pose) {
	for _, t := range turns {
		axis := back.Dir(t.Axis).Mul(t.HalfRad)
		s.turns = append(s.turns, lever{back.Point(t.Pivot.Add(shifted)).Sub(s.a.Origin()), axis})
		s.angle += t.HalfRad
	}
}

// driftMM bounds how far points in boxes with the given corners move along a
// unit direction, those of a and of b together: the shift, the turns to first
// order, where corners go furthest, and the most their second order can add.
func (s *sweptSearch) driftMM(along geom.Vec, cornersA, cornersB *[8]geom.Vec) float64 {
	sumMM := s.shiftAlongMM(along)
	var armMM float64
	for i, l := range s.turns {
		corners := cornersA
		if i >= s.ofA {
			corners = cornersB
		}
		var mostMM float64
		for _, c := range corners {
			mostMM = max(mostMM, math.Abs(l.armAt(c).Dot(along)))
			armMM = max(armMM, c.Sub(l.pivot).Len())
		}
		sumMM += mostMM
	}
	return sumMM + s.angle*s.angle*armMM // half for either body
}

// shiftAlongMM returns how far the shift reaches along a direction.
func (s *sweptSearch) shiftAlongMM(along geom.Vec) float64 {
	return math.Abs(s.half[0].Dot(along)) + math.Abs(s.half[1].Dot(along)) + math.Abs(s.half[2].Dot(along))
}

// lever is a turn in the frame of the search, its axis times its largest angle.
type lever struct{ pivot, axis geom.Vec }

// armAt returns how far a point goes at the largest angle, to first order.
func (l lever) armAt(p geom.Vec) geom.Vec { return l.axis.Cross(p.Sub(l.pivot)) }

// Leaves tries the triangle pairs of two leaves.
func (s *sweptSearch) Leaves(p bvh.LeafPair) float64 {
	var tb [bvh.MaxLeaf]bvh.Triangle
	var as, bs [bvh.MaxLeaf]swung
	for j := range p.CountB {
		for k, v := range s.b.Slot(p.FirstB + j) {
			tb[j][k] = s.toA.Point(v)
		}
		bs[j] = s.swing(&tb[j])
		s.slab.lay(&bs[j], -1)
	}
	for i := range p.CountA {
		as[i] = s.swing(s.a.Slot(p.FirstA + i))
		s.slab.lay(&as[i], 1)
	}
	for i := range p.CountA {
		for j := range p.CountB {
			h := hulls{sweptSearch: s, ta: as[i].tri, tb: bs[j].tri}
			h.choose(&as[i], &bs[j])
			if s.slab.gapMM(&as[i], &bs[j], h.turnB)-h.bendMM >= s.bestMM || !h.try() {
				continue
			}
			if s.found && s.bestMM == 0 {
				return -1
			}
			for k := range p.CountA {
				s.slab.lay(&as[k], 1)
			}
			for k := range p.CountB {
				s.slab.lay(&bs[k], -1)
			}
		}
	}
	return max(s.bestMM, bvh.Touch)
}
