package dist

import (
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
	s.place(a, b, m)
	bvh.Pairs(a.Tree, b.Tree, s.toA, s.bestMM+s.reachMM, s)
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
	reachMM float64     // how far any point can come nearer to any other
	sizeMM  float64     // of everything, for rounding
	bestMM  float64     // least bound so far
	highMM  float64     // least distance of the hulls that gave it
	found   bool
	at      mix
	along   geom.Vec // unit direction that parted the last pair; zero at first
}

// lever is a turn in the frame of the search, its axis times its largest angle.
type lever struct{ pivot, axis geom.Vec }

// armAt returns how far a point goes at the largest angle, to first order.
func (l lever) armAt(p geom.Vec) geom.Vec { return l.axis.Cross(p.Sub(l.pivot)) }

// place takes the motion into the frame of a's tree, relative to its origin.
func (s *sweptSearch) place(a, b Body, m Sweep) {
	back := a.Pose.Inverse()
	half := m.Shift.Size().Mul(0.5)
	for k := range 3 {
		s.half[k] = back.R.Col(k).Mul(half[k])
	}
	s.shiftMM = half.Len()
	s.sizeMM = a.Tree.Box().DiagonalMM() + b.Tree.Box().DiagonalMM() + s.shiftMM
	s.reachMM = s.shiftMM
	cornersA, cornersB := a.Tree.Box().Corners(), b.Tree.Box().Corners()
	for i := range cornersA {
		cornersA[i] = cornersA[i].Sub(a.Tree.Origin())
		cornersB[i] = s.toA.Point(cornersB[i].Sub(b.Tree.Origin()))
	}
	s.lever(m.TurnA, m.Shift.Center(), back, cornersA)
	s.ofA = len(s.turns)
	s.lever(m.TurnB, geom.Vec{}, back, cornersB)
}

// lever adds the turns of one body whose box has the given corners. A true turn
// moves a point no further than its first order does.
func (s *sweptSearch) lever(turns []Turn, shifted geom.Vec, back geom.Pose, corners [8]geom.Vec) {
	for _, t := range turns {
		l := lever{back.Point(t.Pivot.Add(shifted)).Sub(s.a.Origin()), back.Dir(t.Axis).Mul(t.HalfRad)}
		armMM := 0.0
		for _, c := range corners {
			armMM = max(armMM, c.Sub(l.pivot).Len()*t.HalfRad)
		}
		s.reachMM += armMM
		s.angle += t.HalfRad
		s.turns = append(s.turns, l)
	}
}

// Leaves tries the triangle pairs of two leaves.
func (s *sweptSearch) Leaves(p bvh.LeafPair) float64 {
	var tb [bvh.MaxLeaf]bvh.Triangle
	for j := range p.CountB {
		for k, v := range s.b.Slot(p.FirstB + j) {
			tb[j][k] = s.toA.Point(v)
		}
	}
	for i := range p.CountA {
		for j := range p.CountB {
			h := hulls{sweptSearch: s, ta: s.a.Slot(p.FirstA + i), tb: &tb[j]}
			h.try()
			if s.found && s.bestMM == 0 {
				return -1
			}
		}
	}
	return s.bestMM + s.reachMM
}
