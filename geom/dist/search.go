package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// search is the nearest-pair walk of two trees. Points are relative to the
// origin of a's tree.
type search struct {
	a, b     *bvh.Tree
	toA      geom.Pose
	reachMM  float64 // shrinks to the best distance
	best     touch
	n        geom.Vec // unit direction from a to b at the best pair; zero at first
	nB       geom.Vec // n along b's axes
	nShiftMM float64  // component along n of where b's origin stands
	slotA    int
	slotB    int
	found    bool
	slackMM  float64 // rounding bound: surfaces nearer than this may touch
	tieMM    float64 // what is nearer than the best by less than this is as near
	skipMM   float64 // triangles at least this far apart are not looked at: reachMM less ties
	watch    watch
	quit     bool
}

const (
	// tieSteps is how many roundings of the largest coordinate apart two distances
	// count as the same: neighbours share the corner or edge that is nearest, and
	// their projections differ by that much. A fraction of roundingSteps.
	tieSteps = 8
	// tieShare bounds a tie as a share of the distance: none of a hair's breadth
	// is taken for the same as one of nothing.
	tieShare = 0x1p-40
)

// run does the walk, for distances below reachMM. It allocates nothing.
func (s *search) run() bvh.PairCount {
	var w bvh.PairWalk
	w.Start(s.a, s.b, s.toA, bvh.Drift{})
	s.skipMM = s.reachMM
	s.tieMM = tieSteps * 0x1p-53 * (s.toA.T.Len() + s.a.Box().DiagonalMM() + s.b.Box().DiagonalMM())
	for reachMM := s.reachMM; reachMM >= 0; {
		p, ok := w.Next(reachMM)
		if !ok {
			break
		}
		if s.quit = s.watch.over(); s.quit {
			break
		}
		reachMM = s.leaves(p)
	}
	return w.Count
}

// leaves tries the triangle pairs of two leaves and returns what is within reach
// from then on, -1 when nothing can come nearer.
func (s *search) leaves(p bvh.LeafPair) (reachMM float64) {
	var tb [bvh.MaxLeaf]bvh.Triangle
	var low [bvh.MaxLeaf]float64 // low[j]: least component along n of triangle j of b, mm
	var posed [bvh.MaxLeaf]bool  // posed[j]: tb[j] is filled in
	for j := range p.CountB {
		low[j] = s.low(s.b.Slot(p.FirstB + j))
	}
	for i := range p.CountA {
		ta := s.a.Slot(p.FirstA + i)
		high := s.high(ta)
		for j := range p.CountB {
			if s.found && low[j]-high >= s.skipMM {
				continue
			}
			if !posed[j] {
				for k, v := range s.b.Slot(p.FirstB + j) {
					tb[j][k] = s.toA.Point(v)
				}
				posed[j] = true
			}
			if planeBetween(ta, &tb[j], s.skipMM) {
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
			high = s.high(ta)
			for k := range p.CountB {
				low[k] = s.low(s.b.Slot(p.FirstB + k))
			}
		}
	}
	return s.skipMM
}

// high returns the largest component of a triangle of a along n.
func (s *search) high(t *bvh.Triangle) float64 {
	n := &s.n
	return max(n[0]*t[0][0]+n[1]*t[0][1]+n[2]*t[0][2], n[0]*t[1][0]+n[1]*t[1][1]+n[2]*t[1][2], n[0]*t[2][0]+n[1]*t[2][1]+n[2]*t[2][2])
}

// low returns the least component of a triangle of b along n, where it stands.
func (s *search) low(t *bvh.Triangle) float64 {
	n := &s.nB
	return s.nShiftMM + min(n[0]*t[0][0]+n[1]*t[0][1]+n[2]*t[0][2], n[0]*t[1][0]+n[1]*t[1][1]+n[2]*t[1][2], n[0]*t[2][0]+n[1]*t[2][1]+n[2]*t[2][2])
}

// take keeps a new best pair.
func (s *search) take(near touch, distMM float64, slotA, slotB int) {
	s.best, s.reachMM, s.found = near, distMM, true
	s.skipMM = distMM - min(s.tieMM, tieShare*distMM)
	s.slotA, s.slotB = slotA, slotB
	if distMM > 0 {
		s.n = near.q.Sub(near.p).Mul(1 / distMM)
		s.nB, s.nShiftMM = s.toA.R.Transpose().Mul3x1(s.n), s.n.Dot(s.toA.T)
	}
}
