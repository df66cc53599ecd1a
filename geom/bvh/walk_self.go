package bvh

import (
	"math"

	"aftbay/geom"
)

// SelfWalk shows the pairs of leaves of one tree whose bounds meet, each pair
// once and each leaf with itself once, in no useful order. Start begins it.
type SelfWalk struct {
	octets []octet
	still  side
	kernel kernel
	top    int
	stack  [selfStack][2]int32
}

// selfStack is room for a box opened against itself down to the leaves, which
// puts all pairs of eight aside at each level, and for two opened below that.
const selfStack = mostOctets*lanes*(lanes+1)/2 + pairStack

// Start begins a walk.
func (s *SelfWalk) Start(t *Tree) {
	s.octets, s.top = t.octets, 0
	s.still = sideOf(geom.Identity())
	s.still.slackMM = slackShare * 2 * t.reachMM
	s.kernel = kernelFor(2*t.reachMM, t.plain)
	if len(s.octets) > 0 {
		s.stack[0], s.top = [2]int32{0, 0}, 1
	}
}

// Next returns the next pair of leaves; ok is false when there is none left.
func (s *SelfWalk) Next() (leaves LeafPair, ok bool) {
	for s.top > 0 {
		s.top--
		p := s.stack[s.top]
		oa, la := &s.octets[p[0]/lanes], p[0]%lanes
		ob, lb := &s.octets[p[1]/lanes], p[1]%lanes
		countA, countB := oa.count[la], ob.count[lb]
		switch {
		case countA > 0 && countB > 0:
			return LeafPair{int(oa.at[la]), int(countA), int(ob.at[lb]), int(countB)}, true
		case p[0] == p[1]:
			kids := &s.octets[oa.at[la]]
			for k := range int32(lanes) {
				if kids.lo[0][k] <= kids.hi[0][k] {
					s.open(oa.at[la], oa.at[la]*lanes+k, k)
				}
			}
		case countB > 0 || countA == 0 && oa.size[la] >= ob.size[lb]:
			s.open(oa.at[la], p[1], 0)
		default:
			s.open(ob.at[lb], p[0], 0)
		}
	}
	return LeafPair{}, false
}

// open puts the boxes of an octet aside that may meet box at, from a lane on.
func (s *SelfWalk) open(kids, at, from int32) {
	var f facing
	var out near
	f.face(&s.octets[at/lanes], at%lanes, &s.still)
	mm, mm2 := reachOf(Touch)
	within := s.kernel.near(&s.octets[kids], &f, mm, mm2, &out)
	for k := from; k < lanes; k++ {
		if within>>k&1 == 1 && !(out.gapMM[k] > math.SmallestNonzeroFloat32) {
			s.stack[s.top] = [2]int32{kids*lanes + k, at}
			s.top++
		}
	}
}
