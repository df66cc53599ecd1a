package dist

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// doubled returns boxes, in the part frame, around all that a closed mesh may
// hold twice: where its surface crosses itself the whole body, where two bodies
// cross what their boxes have in common, and a body that lies inside another one
// with the same winding. None for a simple solid, hollow or not.
//
// Errors: that of ctx. Cost: some microseconds a triangle, once for each tree.
func doubled(ctx context.Context, t *bvh.Tree) ([]geom.Box, error) {
	return t.Doubled(func() ([]geom.Box, error) {
		s := &selfWalk{tree: t, watch: watch{ctx: ctx}, pairs: map[[2]int]bool{}}
		if !s.run() {
			return nil, ctx.Err()
		}
		boxes, shells := nested(t, s.pairs), t.Shells()
		for i := range shells { // in order: a map has none
			for j := i; j < len(shells); j++ {
				if s.pairs[[2]int{i, j}] {
					boxes = append(boxes, common(shells[i].Box, shells[j].Box))
				}
			}
		}
		return boxes, nil
	})
}

// nested returns the boxes of the bodies that take the winding of a mesh beyond
// 0 and 1, or beyond 0 and -1 if it is inside out as a whole.
func nested(t *bvh.Tree, crossed map[[2]int]bool) (boxes []geom.Box) {
	shells := t.Shells()
	if len(shells) < 2 {
		return nil
	}
	level := make([][2]int, len(shells)) // level[k]: lowest and highest winding at body k
	lowest, highest := 0, 0
	for k := range shells {
		outside, turn := windingOfOthers(t, k, crossed), 1
		if signedMM3(t, k) < 0 {
			turn = -1
		}
		level[k] = [2]int{min(outside, outside+turn), max(outside, outside+turn)}
		lowest, highest = min(lowest, level[k][0]), max(highest, level[k][1])
	}
	if highest-lowest <= 1 {
		return nil
	}
	for k, l := range level {
		if l[0] < 0 || l[1] > 1 {
			boxes = append(boxes, shells[k].Box)
		}
	}
	return boxes
}

// windingOfOthers returns how often the bodies of a mesh that do not cross body k
// wind around it, judged at one of its corners.
func windingOfOthers(t *bvh.Tree, k int, crossed map[[2]int]bool) int {
	shells, p := t.Shells(), t.Shells()[k].Point
	around := make([]bool, len(shells))
	any := false
	for i := range shells {
		around[i] = i != k && !crossed[[2]int{min(i, k), max(i, k)}] && within(shells[i].Box, p)
		any = any || around[i]
	}
	if !any {
		return 0
	}
	return int(math.Round(solidAngles(t, p.Sub(t.Origin()), func(tri int) bool { return around[t.ShellOf(tri)] })))
}

// signedMM3 returns the volume of body k, negative where it is wound inward.
func signedMM3(t *bvh.Tree, k int) (sumMM3 float64) {
	from := t.Shells()[k].Point
	for i := range t.Len() {
		if t.ShellOf(t.Tri(i)) == k {
			c := cornersOf(t, t.Tri(i))
			sumMM3 += c[0].Sub(from).Dot(c[1].Sub(from).Cross(c[2].Sub(from))) / 6
		}
	}
	return sumMM3
}

func common(a, b geom.Box) geom.Box {
	for k := range 3 {
		a.Min[k], a.Max[k] = max(a.Min[k], b.Min[k]), min(a.Max[k], b.Max[k])
	}
	return a
}

// mayCountTwice reports whether something that a holds twice may lie in b.
func (a Body) mayCountTwice(ctx context.Context, b Body) (bool, error) {
	boxes, err := doubled(ctx, a.Tree)
	for _, part := range boxes {
		box := geom.EmptyBox()
		for _, c := range part.Corners() {
			box = box.Grow(a.Pose.Point(c))
		}
		if box.GapMM(b.box()) == 0 {
			return true, err
		}
	}
	return false, err
}
