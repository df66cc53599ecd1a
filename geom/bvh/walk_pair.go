package bvh

import (
	"math"

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
	return PairsMoving(a, b, toA, Drift{}, reachMM, v)
}

// Drift is how far points of one tree may move against points of the other, to
// either side along each axis of both frames, mm.
type Drift struct{ InA, InB geom.Vec }

// PairsMoving is Pairs for trees that may drift: it shows every pair of leaves
// whose distance may anywhere in the drift be below reachMM.
func PairsMoving(a, b *Tree, toA geom.Pose, d Drift, reachMM float64, v PairVisitor) PairCount {
	var w PairWalk
	w.Start(a, b, toA, d)
	for reachMM >= 0 {
		p, ok := w.Next(reachMM)
		if !ok {
			break
		}
		reachMM = v.Leaves(p)
	}
	return w.Count
}

// PairWalk is the walk of PairsMoving one pair of leaves at a time, for callers
// that keep their state on the stack. Start begins it.
type PairWalk struct {
	Count PairCount

	w     pairWalk
	fresh bool // the roots are still to be looked at
	top   int
	stack [2*maxDepth + 4]pairWaiting
}

// Start begins a walk; see Pairs for toA.
func (s *PairWalk) Start(a, b *Tree, toA geom.Pose, d Drift) {
	s.w.a, s.w.b = a, b
	s.w.place(toA, d)
	s.Count, s.top, s.fresh = PairCount{}, 0, len(a.slots) > 0 && len(b.slots) > 0
}

// Next returns the next pair of leaves whose distance may be below reachMM, which
// must not grow from call to call; ok is false when there is none left.
func (s *PairWalk) Next(reachMM float64) (leaves LeafPair, ok bool) {
	return s.NextUnless(reachMM, nil)
}

// NextUnless is Next without the nodes that parted tells apart: it is asked about
// the boxes of two nodes, each relative to its own tree's origin, and where it says
// yes nothing of the two is shown. It may be nil.
func (s *PairWalk) NextUnless(reachMM float64, parted func(a, b geom.Box) bool) (leaves LeafPair, ok bool) {
	if s.fresh {
		s.fresh = false
		s.stack[0], s.top = s.w.root(reachMM), 1
		s.Count.Nodes = 1
	}
	a, b := s.w.a, s.w.b
	for s.top > 0 {
		s.top--
		p := s.stack[s.top]
		if p.gapMM >= reachMM {
			continue
		}
		na, nb := &a.nodes[p.a], &b.nodes[p.b]
		if parted != nil && parted(na.box(), nb.box()) {
			continue
		}
		if na.count > 0 && nb.count > 0 {
			s.Count.Leaves++
			return LeafPair{int(na.at), int(na.count), int(nb.at), int(nb.count)}, true
		}
		var near, far pairWaiting
		if nb.count > 0 || na.count == 0 && a.turned[p.a].size >= b.turned[p.b].size {
			x, y := bounds(a, b, na.at, p.b, &s.w.toA, reachMM)
			near, far = pairWaiting{na.at, p.b, x.gapMM, x.midsMM2}, pairWaiting{na.at + 1, p.b, y.gapMM, y.midsMM2}
		} else {
			x, y := bounds(b, a, nb.at, p.a, &s.w.toB, reachMM)
			near, far = pairWaiting{p.a, nb.at, x.gapMM, x.midsMM2}, pairWaiting{p.a, nb.at + 1, y.gapMM, y.midsMM2}
		}
		s.Count.Nodes += 2
		if far.gapMM < near.gapMM || far.gapMM == near.gapMM && far.midsMM2 < near.midsMM2 {
			near, far = far, near
		}
		for _, next := range [2]pairWaiting{far, near} {
			if next.gapMM < reachMM {
				s.stack[s.top] = next
				s.top++
			}
		}
	}
	return LeafPair{}, false
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

// pairWalk is two trees and how they stand to each other.
type pairWalk struct {
	a, b     *Tree
	toA, toB side
}

func (w *pairWalk) place(toA geom.Pose, d Drift) {
	w.toA = sideOf(toA)
	w.toB = sideOf(geom.Pose{R: toA.R.Transpose(), T: toA.R.Transpose().Mul3x1(toA.T).Mul(-1)})
	w.toA.drift, w.toA.ownDrift = d.InA, d.InB
	w.toB.drift, w.toB.ownDrift = d.InB, d.InA
	w.toA.driftMM, w.toB.driftMM = d.InA.Len(), d.InB.Len()
}

// root bounds the distance of the two roots.
func (w *pairWalk) root(reachMM float64) pairWaiting {
	f := standing{tree: w.b, node: 0}
	f.straight(&w.toA)
	x := f.bound(w.a, 0, &w.toA, reachMM)
	return pairWaiting{gapMM: x.gapMM, midsMM2: x.midsMM2}
}
