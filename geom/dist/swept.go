package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Sweep is a motion of two bodies about the poses they stand in: turns of
// either, then a shift of the first one.
type Sweep struct {
	Shift        geom.Box // of the first body, vehicle axes
	TurnA, TurnB Turns
}

// Turns is up to three rotations of a body about axes through one point, one
// after the other: the first one first, and the axes of the later ones stand
// still meanwhile.
type Turns struct {
	Pivot geom.Vec // vehicle frame
	About [3]Turn
}

// Turn is a rotation between −HalfRad and HalfRad; none when HalfRad is 0.
type Turn struct {
	Axis    geom.Vec // unit vector, vehicle frame
	HalfRad float64
}

// SweptResult is the least clearance over a sweep.
type SweptResult struct {
	GapMM        float64    // one pose comes at least this near; without turns: the least distance, exactly; 0 when the surfaces meet there
	LowMM        float64    // no motion of the sweep comes nearer than this
	AtLeast      bool       // the search stopped at the distance asked for: GapMM is that
	Shift        geom.Vec   // of the first body, in that pose
	TurnA, TurnB [3]float64 // Bare numbers: rad, of each Turn, in that pose
}

// Swept returns the least distance of the surfaces of a and b over a sweep,
// without sampling. A distance of enoughMM or more is not looked for. Both
// bodies must have triangles.
//
// With shifts alone GapMM is exact. With turns LowMM is a certain lower bound
// that closes with the square of the angles.
//
// It knows surfaces only: a body that stays wholly inside the other has a
// distance here; see Between.
//
// Method: the distance of two triangles over the sweep is bounded by a plane
// between them that leans as they turn (tilt). Most pairs are settled by the
// plane of the pair before. For the others the exact distance in one pose over
// all shifts, a convex problem, gives the plane.
func Swept(a, b Body, m Sweep, enoughMM float64) SweptResult {
	mid := m.Shift.Center()
	a.Pose.T = a.Pose.T.Add(mid)
	s := sweptSearch{a: a.Tree, b: b.Tree, bestMM: enoughMM, highMM: math.Inf(1)}
	s.toA = bvh.Between(a.Tree, b.Tree, a.Pose, b.Pose)
	s.toB = s.toA.Inverse()
	drift := s.place(a, b, m)
	s.run(drift)
	roundMM := errorMM(a, b) + s.roundMM()
	if !s.found {
		return SweptResult{GapMM: enoughMM, LowMM: max(0, enoughMM-roundMM), AtLeast: true}
	}
	r := SweptResult{
		GapMM: s.highMM, LowMM: max(0, s.bestMM-roundMM),
		Shift: clamp(a.Pose.Dir(s.atShift).Add(mid), m.Shift),
	}
	for k, turn := range s.turnOf[:s.turns] {
		if k < s.ofA {
			r.TurnA[turn] = s.at[k] * m.TurnA.About[turn].HalfRad
		} else {
			r.TurnB[turn] = s.at[k] * m.TurnB.About[turn].HalfRad
		}
	}
	return r
}

// roundMM bounds the rounding of what the turns do, about pivots that may be far
// away, and of the shift.
func (s *sweptSearch) roundMM() float64 {
	sumMM := s.sizeMM
	for body := range 2 {
		sumMM += s.angle[body] * (1 + s.angle[body]) * (s.sizeMM + s.pivot[body].Len())
	}
	return roundingSteps * 0x1p-53 * sumMM
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
	toA     geom.Pose // from the frame of b's tree
	toB     geom.Pose
	half    [3]geom.Vec         // half edges of the shift box
	turns   int                 // of a, then of b
	ofA     int                 // how many of them are a's
	axis    [mostTurns]geom.Vec // times the largest angle
	turnOf  [mostTurns]int      // which of its body's turns it is
	pivot   [2]geom.Vec         // of a, of b
	angle   [2]float64          // Bare numbers: rad, sum of the largest angles of a, of b
	sizeMM  float64             // of everything, for rounding
	bestMM  float64             // least bound so far
	found   bool
	highMM  float64 // least distance in a pose looked at
	at      spread
	atShift geom.Vec
	tilt    tilt // that parted the last pair; along nothing at first
}

// place takes the motion into the frame of a's tree, relative to its origin, and
// returns how far it may bring any two points together.
func (s *sweptSearch) place(a, b Body, m Sweep) bvh.Drift {
	back := a.Pose.Inverse()
	half := m.Shift.Size().Mul(0.5)
	var shiftMM float64
	for k := range 3 {
		s.half[k] = back.R.Col(k).Mul(half[k])
		shiftMM += half[k]
	}
	s.sizeMM = a.Tree.Box().DiagonalMM() + b.Tree.Box().DiagonalMM() + shiftMM
	s.lever(0, m.TurnA, m.Shift.Center(), back)
	s.ofA = s.turns
	s.lever(1, m.TurnB, geom.Vec{}, back)
	s.tilt = s.tilted(&leaning{})
	cornersA, cornersB := a.Tree.Box().Corners(), b.Tree.Box().Corners()
	for i := range cornersA {
		cornersA[i] = cornersA[i].Sub(a.Tree.Origin())
		cornersB[i] = cornersB[i].Sub(b.Tree.Origin())
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
func (s *sweptSearch) lever(body int, turns Turns, shifted geom.Vec, back geom.Pose) {
	s.pivot[body] = back.Point(turns.Pivot.Add(shifted)).Sub(s.a.Origin())
	for k, t := range turns.About {
		if t.HalfRad == 0 {
			continue
		}
		s.axis[s.turns], s.turnOf[s.turns] = back.Dir(t.Axis).Mul(t.HalfRad), k
		s.angle[body] += math.Abs(t.HalfRad)
		s.turns++
	}
}

// driftMM bounds how far points in boxes with the given corners, each in its own
// frame, move along a unit direction, those of a and of b together.
func (s *sweptSearch) driftMM(along geom.Vec, cornersA, cornersB *[8]geom.Vec) float64 {
	var sumMM float64
	for _, e := range s.half {
		sumMM += math.Abs(e.Dot(along))
	}
	still := s.tilted(&leaning{along: along})
	for body, corners := range [2]*[8]geom.Vec{cornersA, cornersB} {
		var mostMM float64
		for i := range corners {
			b := still.ofPoint[body].at(&corners[i], still.terms)
			movedMM := still.restMM[body] * corners[i].Sub(still.pivot[body]).Len()
			for _, x := range b[1:still.terms] {
				movedMM += math.Abs(x)
			}
			mostMM = max(mostMM, movedMM) // convex in the point, so greatest at a corner
		}
		sumMM += mostMM
	}
	return sumMM
}

// run does the walk. It allocates nothing.
func (s *sweptSearch) run(drift bvh.Drift) {
	var w bvh.PairWalk
	w.Start(s.a, s.b, s.toA, drift)
	parted := func(a, b geom.Box) bool {
		return s.tilt.boundMM(s.tilt.boxMM(&a, 0)+s.tilt.boxMM(&b, 1)+s.tilt.shiftMM) >= s.bestMM
	}
	for {
		p, ok := w.NextUnless(max(s.bestMM, bvh.Touch), parted)
		if !ok {
			return
		}
		s.leaves(p)
		if s.found && s.bestMM == 0 {
			return
		}
	}
}

// leaves tries the triangle pairs of two leaves.
func (s *sweptSearch) leaves(p bvh.LeafPair) {
	var as, bs [bvh.MaxLeaf]laid
	for i := range p.CountA {
		as[i].tri = s.a.Slot(p.FirstA + i)
		s.tilt.lay(&as[i], 0)
	}
	for j := range p.CountB {
		bs[j].tri = s.b.Slot(p.FirstB + j)
		s.tilt.lay(&bs[j], 1)
	}
	for i := range p.CountA {
		for j := range p.CountB {
			if s.tilt.quickMM(&as[i], &bs[j]) >= s.bestMM || !s.try(&as[i], &bs[j]) {
				continue
			}
			if s.found && s.bestMM == 0 {
				return
			}
			for k := range p.CountA {
				s.tilt.lay(&as[k], 0)
			}
			for k := range p.CountB {
				s.tilt.lay(&bs[k], 1)
			}
		}
	}
}
