package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// SweptResult is the least clearance while one body is shifted.
type SweptResult struct {
	GapMM   float64  // least distance found; 0 when the surfaces meet somewhere
	LowMM   float64  // no shift of the box comes nearer than this
	AtLeast bool     // the search stopped at the distance asked for: GapMM is that
	Shift   geom.Vec // shift of the first body where GapMM is reached
}

// Swept returns the least distance of the surfaces of a and b while a takes
// every shift of the box, exactly: no sampling. A distance of enoughMM or more
// is not looked for. Both bodies must have triangles.
//
// It knows surfaces only: a body that stays wholly inside the other has a
// distance here; see Between.
//
// Method: a triangle that takes all shifts of a box is a convex set; its
// distance to another triangle is found by convex. Most pairs are settled by
// the plane through their nearest points in the middle of the box.
func Swept(a, b Body, shift geom.Box, enoughMM float64) SweptResult {
	mid := shift.Center()
	s := &sweptSearch{a: a.Tree, b: b.Tree, bestMM: enoughMM}
	a.Pose.T = a.Pose.T.Add(mid)
	s.toA = bvh.Between(a.Tree, b.Tree, a.Pose, b.Pose)
	half := shift.Size().Mul(0.5)
	back := a.Pose.R.Transpose()
	for k := range 3 {
		s.half[k] = back.Col(k).Mul(half[k])
	}
	s.radiusMM = half.Len()
	s.sizeMM = a.Tree.Box().DiagonalMM() + b.Tree.Box().DiagonalMM() + s.radiusMM
	bvh.Pairs(a.Tree, b.Tree, s.toA, s.bestMM+s.radiusMM, s)
	roundMM := errorMM(a, b)
	if !s.found {
		return SweptResult{GapMM: enoughMM, LowMM: max(0, enoughMM-roundMM), AtLeast: true}
	}
	return SweptResult{
		GapMM: s.bestMM, LowMM: max(0, min(s.lowMM, s.bestMM)-roundMM),
		Shift: clamp(a.Pose.Dir(s.shift).Add(mid), shift),
	}
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
	a, b     *bvh.Tree
	toA      geom.Pose
	half     [3]geom.Vec // half edges of the shift box
	radiusMM float64     // half its diagonal
	sizeMM   float64     // of everything, for rounding
	bestMM   float64
	lowMM    float64
	found    bool
	shift    geom.Vec
}

// reachOfShift returns how far the shift box reaches along a unit direction.
func (s *sweptSearch) reachOfShift(along geom.Vec) float64 {
	return math.Abs(s.half[0].Dot(along)) + math.Abs(s.half[1].Dot(along)) + math.Abs(s.half[2].Dot(along))
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
	return s.bestMM + s.radiusMM
}

// try settles one triangle pair: by the plane across its nearest points in the
// middle of the box where that is enough, else exactly.
func (s *sweptSearch) try(ta, tb *bvh.Triangle) {
	near := triangles(ta, tb)
	distMM := math.Sqrt(near.distMM2)
	if distMM-s.radiusMM >= s.bestMM {
		return
	}
	if distMM > 0 {
		along := near.q.Sub(near.p).Mul(1 / distMM)
		if slabMM(ta, tb, along)-s.reachOfShift(along) >= s.bestMM {
			return
		}
	}
	g := convex(func(along geom.Vec) vertex { return s.furthest(ta, tb, along) }, s.sizeMM)
	switch {
	case !s.found && g.highMM < s.bestMM:
		s.found, s.lowMM = true, g.lowMM
	case g.highMM >= s.bestMM:
		if s.found {
			s.lowMM = min(s.lowMM, g.lowMM)
		}
		return
	}
	s.lowMM = min(s.lowMM, g.lowMM)
	s.bestMM, s.shift = g.highMM, g.shift
}

// slabMM returns the distance of two triangles along a unit direction.
func slabMM(ta, tb *bvh.Triangle, along geom.Vec) float64 {
	return min(along.Dot(tb[0]), along.Dot(tb[1]), along.Dot(tb[2])) -
		max(along.Dot(ta[0]), along.Dot(ta[1]), along.Dot(ta[2]))
}

// furthest returns the corner of (triangle a + shift box) − triangle b that
// lies furthest along a direction.
func (s *sweptSearch) furthest(ta, tb *bvh.Triangle, along geom.Vec) vertex {
	v := vertex{p: ta[0], q: tb[0]}
	for k := 1; k < 3; k++ {
		if ta[k].Dot(along) > v.p.Dot(along) {
			v.p = ta[k]
		}
		if tb[k].Dot(along) < v.q.Dot(along) {
			v.q = tb[k]
		}
	}
	for _, h := range s.half {
		if h.Dot(along) < 0 {
			h = h.Mul(-1)
		}
		v.shift = v.shift.Add(h)
	}
	v.diff = v.p.Add(v.shift).Sub(v.q)
	return v
}
