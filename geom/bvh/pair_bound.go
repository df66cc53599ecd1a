package bvh

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
)

// side takes points of one tree to points relative to the other's origin.
type side struct {
	r   mgl64.Mat3
	t   geom.Vec
	abs mgl64.Mat3 // sizes of the entries of r

	// How far points may move, along the axes of the other tree and of this one.
	drift, ownDrift geom.Vec
	driftMM         float64
}

func sideOf(to geom.Pose) side {
	s := side{r: to.R, t: to.T}
	for k, x := range to.R {
		s.abs[k] = math.Abs(x)
	}
	return s
}

// pairBound is what is known of the distance of two nodes.
type pairBound struct {
	gapMM   float64 // at most the true distance; infinite if at least the reach
	midsMM2 float64 // squared distance of the middles
}

// bounds bounds the distance of two sibling nodes, kid and kid+1 of one tree,
// from node at of another, which to takes to the first tree's frame. What can be
// said of the other node alone is worked out once for both.
func bounds(tree, other *Tree, kid, at int32, to *side, reachMM float64) (x, y pairBound) {
	f := standing{tree: other, node: at}
	f.straight(to)
	return f.bound(tree, kid, to, reachMM), f.bound(tree, kid+1, to, reachMM)
}

// standing is a node as it stands in the frame of another tree.
type standing struct {
	tree *Tree
	node int32

	// The axis-aligned box: middle, half edges, and what these reach along the
	// axes of the frame; both with the drift.
	mid, half, reach geom.Vec

	// The oriented box, when it was asked for: the same, and its axes.
	isTurned              bool
	turnedMid, turnedHalf geom.Vec
	axes                  [3]geom.Vec
}

// straight fills in the axis-aligned box.
func (f *standing) straight(to *side) {
	n := &f.tree.nodes[f.node]
	var c geom.Vec
	for k := range 3 {
		lo, hi := float64(n.lo[k]), float64(n.hi[k])
		f.half[k], c[k] = 0.5*(hi-lo), 0.5*(hi+lo)
	}
	r, s := &to.r, &to.abs
	for k := range 3 {
		f.mid[k] = r[k]*c[0] + r[k+3]*c[1] + r[k+6]*c[2] + to.t[k]
		f.reach[k] = s[k]*f.half[0] + s[k+3]*f.half[1] + s[k+6]*f.half[2] + to.drift[k]
	}
	for k := range 3 {
		f.half[k] += to.ownDrift[k]
	}
}

// turn fills in the oriented box.
func (f *standing) turn(to *side) {
	b := &f.tree.turned[f.node]
	x, y, z := float64(b.mid[0]), float64(b.mid[1]), float64(b.mid[2])
	r := &to.r
	for k := range 3 {
		f.turnedMid[k] = r[k]*x + r[k+3]*y + r[k+6]*z + to.t[k]
		f.turnedHalf[k] = float64(b.half[k])
	}
	for c := range 3 {
		x, y, z := float64(b.axis[c][0]), float64(b.axis[c][1]), float64(b.axis[c][2])
		for k := range 3 {
			f.axes[c][k] = r[k]*x + r[k+3]*y + r[k+6]*z
			f.turnedHalf[c] += math.Abs(f.axes[c][k]) * to.drift[k]
		}
	}
	f.isTurned = true
}

// bound bounds the distance from node i of tree. The oriented boxes are looked at
// only when the straight ones, in the frame of either, come closer than reachMM.
func (f *standing) bound(tree *Tree, i int32, to *side, reachMM float64) pairBound {
	a := &tree.nodes[i]
	var half, d geom.Vec
	var inA, inB, midsMM2 float64
	for k := range 3 {
		lo, hi := float64(a.lo[k]), float64(a.hi[k])
		half[k], d[k] = 0.5*(hi-lo), f.mid[k]-0.5*(hi+lo)
		midsMM2 += d[k] * d[k]
		if g := math.Abs(d[k]) - half[k] - f.reach[k]; g > 0 {
			inA += g * g
		}
	}
	if inA*shrunk >= reachMM*reachMM && reachMM > tinyMM {
		return pairBound{math.Inf(1), midsMM2}
	}
	r, s := &to.r, &to.abs
	for k := range 3 {
		e := r[3*k]*d[0] + r[3*k+1]*d[1] + r[3*k+2]*d[2]
		if g := math.Abs(e) - f.half[k] - (s[3*k]*half[0] + s[3*k+1]*half[1] + s[3*k+2]*half[2]); g > 0 {
			inB += g * g
		}
	}
	straightMM2 := max(inA, inB)
	if straightMM2*shrunk >= reachMM*reachMM && reachMM > tinyMM {
		return pairBound{math.Inf(1), midsMM2}
	}
	if !f.isTurned {
		f.turn(to)
	}
	turnedMM2, sizeMM := f.turned(&tree.turned[i])
	return pairBound{max(lower(straightMM2, 0), lower(turnedMM2, nonOrthogonal*(sizeMM+to.driftMM))), midsMM2}
}

const (
	// shrunk is the square of what lower leaves of a bound.
	shrunk = (1 - nonOrthogonal) * (1 - nonOrthogonal)
	// tinyMM is the reach below which squares may vanish; then roots decide.
	tinyMM = 1e-140
)

// turned returns the squared bound by the oriented boxes, in the frame of either,
// and the sum of their sizes.
func (f *standing) turned(a *turnedBox) (gapMM2, sizeMM float64) {
	dx, dy, dz := f.turnedMid[0]-float64(a.mid[0]), f.turnedMid[1]-float64(a.mid[1]), f.turnedMid[2]-float64(a.mid[2])
	b0, b1, b2 := &f.axes[0], &f.axes[1], &f.axes[2]
	var inA, inB float64
	var span geom.Vec // what a's half edges reach along the other's axes
	for k := range 3 {
		x, y, z, half := float64(a.axis[k][0]), float64(a.axis[k][1]), float64(a.axis[k][2]), float64(a.half[k])
		m0 := math.Abs(x*b0[0] + y*b0[1] + z*b0[2])
		m1 := math.Abs(x*b1[0] + y*b1[1] + z*b1[2])
		m2 := math.Abs(x*b2[0] + y*b2[1] + z*b2[2])
		span[0] += m0 * half
		span[1] += m1 * half
		span[2] += m2 * half
		g := math.Abs(x*dx+y*dy+z*dz) - half - (m0*f.turnedHalf[0] + m1*f.turnedHalf[1] + m2*f.turnedHalf[2])
		if g > 0 {
			inA += g * g
		}
	}
	for c := range 3 {
		b := &f.axes[c]
		if g := math.Abs(b[0]*dx+b[1]*dy+b[2]*dz) - f.turnedHalf[c] - span[c]; g > 0 {
			inB += g * g
		}
	}
	return max(inA, inB), float64(a.size) + float64(f.tree.turned[f.node].size)
}

// lower returns the root of a squared bound, less what rounding and axes not
// quite at right angles can make of it, never negative.
func lower(gapMM2, slackMM float64) float64 {
	if gapMM2 == 0 {
		return 0
	}
	return max(0, math.Sqrt(gapMM2)*(1-nonOrthogonal)-slackMM)
}
