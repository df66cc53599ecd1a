package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Sweep is a small motion of two bodies about the poses they stand in: a shift
// of the first one and small turns of either, taken to first order, so that the
// point p goes to p + shift + Σ angle·(axis × (p − pivot)).
type Sweep struct {
	Shift        geom.Box // of the first body, vehicle axes
	TurnA, TurnB []Turn   // any number
}

// Turn is a first-order rotation between −HalfRad and HalfRad, before the shift.
type Turn struct {
	Pivot, Axis geom.Vec // vehicle frame; Axis is a unit vector
	HalfRad     float64
}

// SweptResult is the least clearance over a sweep.
type SweptResult struct {
	GapMM        float64   // least distance found; 0 when the surfaces meet somewhere
	LowMM        float64   // no motion of the sweep comes nearer than this
	AtLeast      bool      // the search stopped at the distance asked for: GapMM is that
	Shift        geom.Vec  // shift of the first body where GapMM is reached
	TurnA, TurnB []float64 // Bare numbers: rad, one for each Turn, where GapMM is nearly reached
}

// Swept returns the least distance of the surfaces of a and b over a sweep,
// without sampling. A distance of enoughMM or more is not looked for. Both
// bodies must have triangles.
//
// With shifts alone GapMM is exact. With turns LowMM is a certain lower bound:
// each corner of a triangle is allowed its own angle, which loses no more than
// the triangle's size times the angle, and nothing where a corner meets a face.
// The caller adds what the turns' second order can do.
//
// It knows surfaces only: a body that stays wholly inside the other has a
// distance here; see Between.
//
// Method: a swept triangle is a convex set; its distance to another one is
// found by convex. Most pairs are settled by the plane through their nearest
// points in the middle of the sweep.
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
		GapMM: s.bestMM, LowMM: max(0, min(s.lowMM, s.bestMM)-roundMM),
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
	turnA   []lever
	turnB   []lever
	reachMM float64 // how far any point can come nearer to any other
	sizeMM  float64 // of everything, for rounding
	bestMM  float64
	lowMM   float64
	found   bool
	at      mix
}

// lever is a turn in the frame of the search, times its largest angle.
type lever struct{ pivot, axis geom.Vec }

// armAt returns how far a point goes at the largest angle.
func (l lever) armAt(p geom.Vec) geom.Vec { return l.axis.Cross(p.Sub(l.pivot)) }

// place takes the motion into the frame of a's tree, relative to its origin.
func (s *sweptSearch) place(a, b Body, m Sweep) {
	back := a.Pose.Inverse()
	half := m.Shift.Size().Mul(0.5)
	for k := range 3 {
		s.half[k] = back.R.Col(k).Mul(half[k])
	}
	s.reachMM = half.Len()
	levers := func(turns []Turn, shifted geom.Vec, corners [8]geom.Vec) []lever {
		var out []lever
		for _, t := range turns {
			l := lever{back.Point(t.Pivot.Add(shifted)).Sub(a.Tree.Origin()), back.Dir(t.Axis).Mul(t.HalfRad)}
			armMM := 0.0
			for _, c := range corners {
				armMM = max(armMM, l.armAt(c).Len())
			}
			s.reachMM += armMM
			out = append(out, l)
		}
		return out
	}
	cornersA, cornersB := a.Tree.Box().Corners(), b.Tree.Box().Corners()
	for i := range cornersA {
		cornersA[i] = cornersA[i].Sub(a.Tree.Origin())
		cornersB[i] = s.toA.Point(cornersB[i].Sub(b.Tree.Origin()))
	}
	s.turnA = levers(m.TurnA, m.Shift.Center(), cornersA)
	s.turnB = levers(m.TurnB, geom.Vec{}, cornersB)
	s.sizeMM = a.Tree.Box().DiagonalMM() + b.Tree.Box().DiagonalMM() + s.reachMM
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
			s.try(s.a.Slot(p.FirstA+i), &tb[j])
			if s.found && s.bestMM == 0 {
				return -1
			}
		}
	}
	return s.bestMM + s.reachMM
}

// try settles one triangle pair: by the plane across its nearest points in the
// middle of the sweep where that is enough, else by their swept hulls.
func (s *sweptSearch) try(ta, tb *bvh.Triangle) {
	near := triangles(ta, tb)
	distMM := math.Sqrt(near.distMM2)
	if distMM-s.reachMM >= s.bestMM {
		return
	}
	if distMM > 0 {
		along := near.q.Sub(near.p).Mul(1 / distMM)
		if -s.furthest(ta, tb, along).diff.Dot(along) >= s.bestMM {
			return
		}
	}
	g := convex(func(along geom.Vec) vertex { return s.furthest(ta, tb, along) }, s.sizeMM)
	if g.highMM >= s.bestMM {
		if s.found {
			s.lowMM = min(s.lowMM, g.lowMM)
		}
		return
	}
	if !s.found {
		s.found, s.lowMM = true, g.lowMM
	}
	s.lowMM = min(s.lowMM, g.lowMM)
	s.bestMM, s.at = g.highMM, g.at
}

// furthest returns the corner of (swept triangle a) − (swept triangle b) that
// lies furthest along a direction.
func (s *sweptSearch) furthest(ta, tb *bvh.Triangle, along geom.Vec) vertex {
	v := vertex{}
	for _, h := range s.half {
		if h.Dot(along) < 0 {
			h = h.Mul(-1)
		}
		v.mix.shift = v.mix.shift.Add(h)
	}
	pa := extreme(ta, s.turnA, along, v.mix.turn[:])
	pb := extreme(tb, s.turnB, along.Mul(-1), v.mix.turn[len(s.turnA):])
	v.diff = pa.Add(v.mix.shift).Sub(pb)
	return v
}

// extreme returns the point of a turned triangle that lies furthest along a
// direction and notes the angles, ±1 for the largest.
func extreme(t *bvh.Triangle, turns []lever, along geom.Vec, angle []float64) geom.Vec {
	best, bestMM := geom.Vec{}, math.Inf(-1)
	for _, p := range t {
		at := p
		var signs [mostTurns]float64
		for k, l := range turns {
			arm := l.armAt(p)
			signs[k] = 1
			if arm.Dot(along) < 0 {
				arm, signs[k] = arm.Mul(-1), -1
			}
			at = at.Add(arm)
		}
		if d := at.Dot(along); d > bestMM {
			best, bestMM = at, d
			copy(angle, signs[:len(turns)])
		}
	}
	return best
}
