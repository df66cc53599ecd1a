package bvh

import (
	"math"

	"aftbay/geom"
)

// Line is a straight piece asked against nodes, relative to the tree's origin.
type Line struct {
	mid, half geom.Vec
	absHalf   geom.Vec
	longMM2   float64 // of half, squared
	withinMM  float64
}

// lineSlackMM keeps the rounding of a test against a node on the safe side.
const lineSlackMM = 1e-9

// NewLine prepares a line between two points, relative to Origin, that is asked
// what comes nearer to it than withinMM.
func NewLine(from, to geom.Vec, withinMM float64) Line {
	l := Line{mid: from.Add(to).Mul(0.5), half: to.Sub(from).Mul(0.5), withinMM: withinMM + lineSlackMM}
	for k := range 3 {
		l.absHalf[k] = math.Abs(l.half[k])
	}
	l.longMM2 = l.half.LenSqr()
	return l
}

// MayMeet reports whether a triangle of node i may come nearer to a line than it
// asks for: false only where none does. Method: separating axes of the line and
// the node's box, grown by the distance, then the distance from the line to the
// ball around the box.
func (t *Tree) MayMeet(i int, l *Line) bool {
	n := &t.nodes[i]
	var off, wide geom.Vec
	for k := range 3 {
		lo, hi := float64(n.lo[k]), float64(n.hi[k])
		off[k] = l.mid[k] - 0.5*(lo+hi)
		wide[k] = 0.5*(hi-lo) + l.withinMM
		if math.Abs(off[k]) > wide[k]+l.absHalf[k] {
			return false
		}
	}
	h, a := &l.half, &l.absHalf
	// Each side of a test is rounded by less than its size times 1e-15, and the
	// grown box has lineSlackMM to spare.
	if math.Abs(off[1]*h[2]-off[2]*h[1]) > wide[1]*a[2]+wide[2]*a[1]+lineSlackMM ||
		math.Abs(off[2]*h[0]-off[0]*h[2]) > wide[2]*a[0]+wide[0]*a[2]+lineSlackMM ||
		math.Abs(off[0]*h[1]-off[1]*h[0]) > wide[0]*a[1]+wide[1]*a[0]+lineSlackMM {
		return false
	}
	// Where the distance is wide beside the box, the ball around it is the
	// tighter of the two.
	at := 0.0
	if l.longMM2 > 0 {
		at = math.Max(-1, math.Min(1, -(off[0]*h[0]+off[1]*h[1]+off[2]*h[2])/l.longMM2))
	}
	var far2, ball2 float64
	for k := range 3 {
		x, r := off[k]+at*h[k], wide[k]-l.withinMM
		far2, ball2 = far2+x*x, ball2+r*r
	}
	radiusMM := math.Sqrt(ball2) + l.withinMM
	return far2 <= radiusMM*radiusMM
}

// Under returns what node i holds: two children, left and left+1, where left is
// not 0, else count slots from first on.
func (t *Tree) Under(i int) (left, first, count int) {
	n := &t.nodes[i]
	if n.count > 0 {
		return 0, int(n.at), int(n.count)
	}
	return int(n.at), 0, 0
}
