package bvh

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
)

// LeafPair is two groups of triangles that may be near each other: slots
// FirstA .. FirstA+CountA of one tree, FirstB .. FirstB+CountB of the other.
type LeafPair struct {
	FirstA, CountA int
	FirstB, CountB int
}

// MaxLeaf is the largest count in a LeafPair.
const MaxLeaf = maxLeaf

// PairVisitor is shown the leaf pairs of a pair walk.
type PairVisitor interface {
	// Leaves looks at one pair of leaves and returns how near, from now on, a
	// pair must be to matter: nothing at that distance or above is shown any
	// more. A negative answer ends the walk.
	Leaves(p LeafPair) (reachMM float64)
}

// PairCount says what a pair walk cost.
type PairCount struct {
	Nodes  int // node pairs whose bounds were computed
	Leaves int // leaf pairs shown
}

// Pairs shows v every pair of leaves whose distance may be below reachMM, nearer
// ones first where the tree can tell. toA takes points relative to b's origin to
// points relative to a's origin (see Between). A reach of 0 shows nothing; Touch
// shows only what may touch. It allocates nothing.
func Pairs(a, b *Tree, toA geom.Pose, reachMM float64, v PairVisitor) PairCount {
	var count PairCount
	if len(a.slots) == 0 || len(b.slots) == 0 {
		return count
	}
	w := pairWalk{a: a, b: b}
	w.place(toA)
	var stack [2*maxDepth + 4]pairWaiting
	stack[0] = w.pair(0, 0, reachMM)
	count.Nodes = 1
	for top := 1; top > 0; {
		top--
		p := stack[top]
		if p.gapMM >= reachMM {
			continue
		}
		na, nb := &a.nodes[p.a], &b.nodes[p.b]
		var near, far pairWaiting
		switch {
		case na.count > 0 && nb.count > 0:
			count.Leaves++
			reachMM = v.Leaves(LeafPair{int(na.at), int(na.count), int(nb.at), int(nb.count)})
			if reachMM < 0 {
				return count
			}
			continue
		case nb.count > 0 || na.count == 0 && a.turned[p.a].size >= b.turned[p.b].size:
			near, far = w.pair(na.at, p.b, reachMM), w.pair(na.at+1, p.b, reachMM)
		default:
			near, far = w.pair(p.a, nb.at, reachMM), w.pair(p.a, nb.at+1, reachMM)
		}
		count.Nodes += 2
		if far.gapMM < near.gapMM || far.gapMM == near.gapMM && far.midsMM2 < near.midsMM2 {
			near, far = far, near
		}
		stack[top], stack[top+1] = far, near
		top += 2
	}
	return count
}

// Touch is the reach that shows only leaf pairs whose bounds meet.
const Touch = math.SmallestNonzeroFloat64

// Between returns the pose that takes points relative to b's origin to points
// relative to a's origin, for meshes standing at the given poses. The far
// translation cancels before anything is turned.
func Between(a, b *Tree, poseA, poseB geom.Pose) geom.Pose {
	back := poseA.R.Transpose()
	shift := back.Mul3x1(poseB.T.Sub(poseA.T))
	rot := back.Mul3(poseB.R)
	return geom.Pose{R: rot, T: rot.Mul3x1(b.origin).Add(shift).Sub(a.origin)}
}

// pairWaiting is a node pair put aside.
type pairWaiting struct {
	a, b    int32
	gapMM   float64 // at most the true distance
	midsMM2 float64 // squared distance of the middles: which first, among equals
}

// pairWalk is two trees and how the second stands to the first.
type pairWalk struct {
	a, b *Tree
	r    mgl64.Mat3 // b's axes to a's
	t    geom.Vec
	abs  mgl64.Mat3 // sizes of the entries of r
}

func (w *pairWalk) place(toA geom.Pose) {
	w.r, w.t = toA.R, toA.T
	for k, x := range toA.R {
		w.abs[k] = math.Abs(x)
	}
}

// pair returns the bound for two nodes. The oriented boxes are looked at only
// when the straight ones come closer than reachMM.
func (w *pairWalk) pair(i, j int32, reachMM float64) pairWaiting {
	p := w.straight(i, j)
	if p.gapMM < reachMM {
		p.gapMM = max(p.gapMM, w.turned(i, j))
	}
	return p
}

// straight bounds the distance of two nodes by their axis-aligned boxes, in the
// frame of either.
func (w *pairWalk) straight(i, j int32) pairWaiting {
	a, b := &w.a.nodes[i], &w.b.nodes[j]
	var ha, hb, ca, cb geom.Vec
	for k := range 3 {
		ha[k], ca[k] = 0.5*(float64(a.hi[k])-float64(a.lo[k])), 0.5*(float64(a.hi[k])+float64(a.lo[k]))
		hb[k], cb[k] = 0.5*(float64(b.hi[k])-float64(b.lo[k])), 0.5*(float64(b.hi[k])+float64(b.lo[k]))
	}
	r, s := &w.r, &w.abs
	var d geom.Vec
	var inA, inB float64
	for k := range 3 {
		d[k] = r[k]*cb[0] + r[k+3]*cb[1] + r[k+6]*cb[2] + w.t[k] - ca[k]
		if g := math.Abs(d[k]) - ha[k] - (s[k]*hb[0] + s[k+3]*hb[1] + s[k+6]*hb[2]); g > 0 {
			inA += g * g
		}
	}
	for k := range 3 {
		e := r[3*k]*d[0] + r[3*k+1]*d[1] + r[3*k+2]*d[2]
		if g := math.Abs(e) - hb[k] - (s[3*k]*ha[0] + s[3*k+1]*ha[1] + s[3*k+2]*ha[2]); g > 0 {
			inB += g * g
		}
	}
	return pairWaiting{a: i, b: j, gapMM: lower(max(inA, inB), 0), midsMM2: d.LenSqr()}
}

// turned bounds the distance of two nodes by their oriented boxes, in the frame
// of either, in mm.
func (w *pairWalk) turned(i, j int32) float64 {
	a, b := &w.a.turned[i], &w.b.turned[j]
	// Middles and axes of b in a's part frame, then along a's axes.
	var d geom.Vec
	var axes [3]geom.Vec
	r := &w.r
	for k := range 3 {
		x, y, z := float64(b.mid[0]), float64(b.mid[1]), float64(b.mid[2])
		d[k] = r[k]*x + r[k+3]*y + r[k+6]*z + w.t[k] - float64(a.mid[k])
		for c := range 3 {
			axes[c][k] = r[k]*float64(b.axis[c][0]) + r[k+3]*float64(b.axis[c][1]) + r[k+6]*float64(b.axis[c][2])
		}
	}
	var inA, inB float64
	var spanB geom.Vec // what a's half edges reach along b's axes
	for k := range 3 {
		u := geom.Vec{float64(a.axis[k][0]), float64(a.axis[k][1]), float64(a.axis[k][2])}
		reach, half := float64(a.half[k]), float64(a.half[k])
		for c := range 3 {
			m := math.Abs(u[0]*axes[c][0] + u[1]*axes[c][1] + u[2]*axes[c][2])
			reach += m * float64(b.half[c])
			spanB[c] += m * half
		}
		if g := math.Abs(u.Dot(d)) - reach; g > 0 {
			inA += g * g
		}
	}
	for c := range 3 {
		if g := math.Abs(axes[c].Dot(d)) - float64(b.half[c]) - spanB[c]; g > 0 {
			inB += g * g
		}
	}
	return lower(max(inA, inB), nonOrthogonal*(float64(a.size)+float64(b.size)))
}

// lower returns the root of a squared bound, less what rounding and axes not
// quite at right angles can make of it, never negative.
func lower(gapMM2, slackMM float64) float64 {
	return max(0, math.Sqrt(gapMM2)*(1-nonOrthogonal)-slackMM)
}
