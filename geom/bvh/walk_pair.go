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
	Octets int // times that a box was bounded against eight others
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

	a, b     []octet
	toA, toB side
	kernel   kernel
	top      int
	stack    [pairStack]pairWaiting
}

// pairStack is room for both trees opened down to their leaves, all children but
// one put aside at each step.
const pairStack = 2*mostOctets*(lanes-1) + 1

// pairWaiting is two boxes put aside.
type pairWaiting struct {
	a, b  int32   // octet·lanes + lane
	gapMM float32 // at most the true distance
}

// Start begins a walk; see Pairs for toA.
func (s *PairWalk) Start(a, b *Tree, toA geom.Pose, d Drift) {
	s.a, s.b = a.octets, b.octets
	s.place(toA, d, a.reachMM+b.reachMM, a.plain || b.plain)
	s.Count, s.top = PairCount{}, 0
	if len(s.a) > 0 && len(s.b) > 0 {
		s.stack[0], s.top = pairWaiting{}, 1
	}
}

// place notes how the trees stand to each other; sizeMM is how far all their
// boxes together reach from their origins.
func (s *PairWalk) place(toA geom.Pose, d Drift, sizeMM float64, plainly bool) {
	s.toA = sideOf(toA)
	s.toB = sideOf(geom.Pose{R: toA.R.Transpose(), T: toA.R.Transpose().Mul3x1(toA.T).Mul(-1)})
	s.toA.drift, s.toA.ownDrift = d.InA, d.InB
	s.toB.drift, s.toB.ownDrift = d.InB, d.InA
	sizeMM += toA.T.Len() + d.InA.Len() + d.InB.Len()
	s.toA.slackMM, s.toB.slackMM = slackShare*sizeMM, slackShare*sizeMM
	s.kernel = kernelFor(sizeMM, plainly)
}

// Next returns the next pair of leaves whose distance may be below reachMM, which
// must not grow from call to call; ok is false when there is none left.
func (s *PairWalk) Next(reachMM float64) (leaves LeafPair, ok bool) {
	return s.NextUnless(reachMM, nil)
}

// NextUnless is Next without the boxes that parted tells apart: it is asked about
// two boxes, each relative to its own tree's origin, and where it says
// yes nothing of the two is shown. It may be nil.
func (s *PairWalk) NextUnless(reachMM float64, parted func(a, b geom.Box) bool) (leaves LeafPair, ok bool) {
	for s.top > 0 {
		s.top--
		p := s.stack[s.top]
		if float64(p.gapMM) >= reachMM {
			continue
		}
		oa, la := &s.a[p.a/lanes], p.a%lanes
		ob, lb := &s.b[p.b/lanes], p.b%lanes
		if parted != nil && parted(oa.box(la), ob.box(lb)) {
			continue
		}
		countA, countB := oa.count[la], ob.count[lb]
		switch {
		case countA > 0 && countB > 0:
			s.Count.Leaves++
			return LeafPair{int(oa.at[la]), int(countA), int(ob.at[lb]), int(countB)}, true
		case countB > 0 || countA == 0 && oa.size[la] >= ob.size[lb]:
			s.open(oa.at[la], p.b, reachMM, true)
		default:
			s.open(ob.at[lb], p.a, reachMM, false)
		}
	}
	return LeafPair{}, false
}

// open puts the boxes of an octet of one tree aside, each with a box of the
// other tree, the nearest on top.
func (s *PairWalk) open(kids, at int32, reachMM float64, ofA bool) {
	var f facing
	var out near
	var o *octet
	if ofA {
		o = &s.a[kids]
		f.face(&s.b[at/lanes], at%lanes, &s.toA)
	} else {
		o = &s.b[kids]
		f.face(&s.a[at/lanes], at%lanes, &s.toB)
	}
	s.Count.Octets++
	mm, mm2 := reachOf(reachMM)
	within := s.kernel.near(o, &f, mm, mm2, &out)

	var order [lanes]uint64
	n := out.farthestFirst(within, &order)
	for _, key := range order[:n] {
		box := kids*lanes + int32(key&(lanes-1))
		w := pairWaiting{box, at, math.Float32frombits(uint32(key >> 32))}
		if !ofA {
			w.a, w.b = at, box
		}
		s.stack[s.top] = w
		s.top++
	}
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
