package bvh

import (
	"slices"

	"aftbay/geom"
)

// InBox calls see with every triangle whose box reaches into a box in the part
// frame or touches it, until see returns false.
func (t *Tree) InBox(box geom.Box, see func(tri int) bool) {
	if len(t.slots) == 0 {
		return
	}
	box.Min, box.Max = box.Min.Sub(t.origin), box.Max.Sub(t.origin)
	t.inBox(&box, see)
}

// inBox is InBox for a box relative to the origin.
func (t *Tree) inBox(box *geom.Box, see func(tri int) bool) {
	var stack [maxDepth + 2]int32
	top := 1
	for top > 0 {
		top--
		n := &t.nodes[stack[top]]
		if !reaches(box, n) {
			continue
		}
		if n.count == 0 {
			stack[top], stack[top+1] = n.at, n.at+1
			top += 2
			continue
		}
		for i := n.at; i < n.at+n.count; i++ {
			if t.slots[i].reaches(box) && !see(int(t.order[i])) {
				return
			}
		}
	}
}

// reaches reports whether a node's box meets a box.
func reaches(box *geom.Box, n *node) bool {
	for k := range 3 {
		if box.Min[k] > float64(n.hi[k]) || box.Max[k] < float64(n.lo[k]) {
			return false
		}
	}
	return true
}

// reaches reports whether the triangle's own box meets a box.
func (tri *Triangle) reaches(box *geom.Box) bool {
	own := geom.Box{Min: tri[0], Max: tri[0]}.Grow(tri[1]).Grow(tri[2])
	return own.GapMM(*box) <= 0
}

// inBox is RayTree.InBox for a box relative to the origin.
func (w *wide) inBox(box *geom.Box, see func(tri int) bool) {
	var stack [wideStack]uint32
	top := 1
	for top > 0 {
		top--
		n := w.node(stack[top])
		for k, child := range n.child {
			switch {
			case !n.reaches(box, k):
			case child&leafMark == 0:
				stack[top] = child
				top++
			case !w.block(child).inBox(box, see):
				return
			}
		}
	}
}

// reaches reports whether the box in a lane meets a box.
func (n *wideNode) reaches(box *geom.Box, lane int) bool {
	for axis := range 3 {
		if !(box.Min[axis] <= float64(n.planes[axis][1][lane]) && box.Max[axis] >= float64(n.planes[axis][0][lane])) {
			return false
		}
	}
	return true
}

// inBox shows the triangles of a block; false when see has seen enough.
func (b *block) inBox(box *geom.Box, see func(tri int) bool) bool {
	for k := range blockLanes {
		tri, number := b.triangle(k)
		if number >= 0 && tri.reaches(box) && !see(int(number)) {
			return false
		}
	}
	return true
}

// box returns the box around the whole tree, as a node.
func (w *wide) box() (n node) {
	root := &w.nodes[0]
	for axis := range 3 {
		n.lo[axis], n.hi[axis] = slices.Min(root.planes[axis][0][:]), slices.Max(root.planes[axis][1][:])
	}
	return n
}
