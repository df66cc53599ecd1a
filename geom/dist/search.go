package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// search is the nearest-pair walk of two trees. Points are relative to the
// origin of a's tree.
type search struct {
	a, b    *bvh.Tree
	toA     geom.Pose
	reachMM float64 // shrinks to the best distance
	best    touch
	n       geom.Vec // unit direction from a to b at the best pair; zero at first
	slotA   int
	slotB   int
	found   bool
	slackMM float64 // rounding bound: surfaces nearer than this may touch
	stop    func() bool
	quit    bool
}

// nearest runs the walk for distances below reachMM.
func nearest(a, b *bvh.Tree, toA geom.Pose, reachMM float64, stop func() bool) (*search, bvh.PairCount) {
	s := &search{a: a, b: b, toA: toA, reachMM: reachMM, stop: stop}
	count := bvh.Pairs(a, b, toA, reachMM, s)
	return s, count
}

// Leaves tries the triangle pairs of two leaves.
func (s *search) Leaves(p bvh.LeafPair) float64 {
	if s.stop != nil && s.stop() {
		s.quit = true
		return -1
	}
	var tb [bvh.MaxLeaf]bvh.Triangle
	var low [bvh.MaxLeaf]float64 // low[j]: least component along n of tb[j], mm
	for j := range p.CountB {
		low[j] = math.Inf(1)
		for k, v := range s.b.Slot(p.FirstB + j) {
			tb[j][k] = s.toA.Point(v)
			low[j] = min(low[j], s.n.Dot(tb[j][k]))
		}
	}
	for i := range p.CountA {
		ta := s.a.Slot(p.FirstA + i)
		for j := range p.CountB {
			high := max(s.n.Dot(ta[0]), s.n.Dot(ta[1]), s.n.Dot(ta[2]))
			if s.found && low[j]-high >= s.reachMM {
				continue
			}
			near := triangles(ta, &tb[j])
			distMM := math.Sqrt(near.distMM2)
			if distMM >= s.reachMM {
				continue
			}
			s.take(near, distMM, p.FirstA+i, p.FirstB+j)
			if distMM == 0 {
				return -1
			}
			for k := range p.CountB {
				low[k] = min(s.n.Dot(tb[k][0]), s.n.Dot(tb[k][1]), s.n.Dot(tb[k][2]))
			}
		}
	}
	return s.reachMM
}

// take keeps a new best pair.
func (s *search) take(near touch, distMM float64, slotA, slotB int) {
	s.best, s.reachMM, s.found = near, distMM, true
	s.slotA, s.slotB = slotA, slotB
	if distMM > 0 {
		s.n = near.q.Sub(near.p).Mul(1 / distMM)
	}
}
