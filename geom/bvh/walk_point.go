package bvh

import (
	"math"

	"aftbay/geom"
)

// pointWalk shows the leaves of a tree near a point, nearest first. It bounds
// boxes as a pair walk does: the point is a box that is as large as rounding.
type pointWalk struct {
	octets []octet
	f      facing
	kernel kernel
	top    int
	stack  [pointStack]aside
}

// pointStack is room for a tree opened down to its leaves, all children but one
// put aside at each step.
const pointStack = mostOctets*(lanes-1) + 1

// aside is a box put aside by a point walk.
type aside struct {
	box   int32
	gapMM float32 // at most the true distance
}

// start begins a walk about p, relative to the tree's origin.
func (w *pointWalk) start(t *Tree, p geom.Vec) {
	w.octets = t.octets
	if len(w.octets) == 0 {
		return
	}
	sizeMM := t.reachMM + p.Len()
	w.kernel = kernelFor(sizeMM, t.plain)
	for k := range 3 {
		step := stepAbove * math.Abs(p[k])
		w.f.lo[k], w.f.hi[k], w.f.mid[k] = float32(p[k]-step), float32(p[k]+step), float32(p[k])
		w.f.half[k], w.f.axis[k][k] = float32(slackShare*sizeMM), 1
	}
	w.top = 1
}

// next returns the slots of the next leaf that may come nearer than reachMM,
// none when there is no other.
func (w *pointWalk) next(reachMM float64) (first, count int32) {
	for w.top > 0 {
		w.top--
		p := w.stack[w.top]
		if float64(p.gapMM) >= reachMM {
			continue
		}
		o, lane := &w.octets[p.box/lanes], p.box%lanes
		if o.count[lane] > 0 {
			return o.at[lane], o.count[lane]
		}
		w.open(o.at[lane], reachMM)
	}
	return 0, 0
}

// open puts the boxes of an octet aside, the nearest on top.
func (w *pointWalk) open(kids int32, reachMM float64) {
	var out near
	mm, mm2 := reachOf(reachMM)
	within := w.kernel.near(&w.octets[kids], &w.f, mm, mm2, &out)
	var order [lanes]uint64
	for _, key := range order[:out.farthestFirst(within, &order)] {
		w.stack[w.top] = aside{kids*lanes + int32(key&(lanes-1)), math.Float32frombits(uint32(key >> 32))}
		w.top++
	}
}
