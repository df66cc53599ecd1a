package bvh

import (
	"fmt"
	"slices"

	"aftbay/geom"
)

// Check returns what is wrong with a tree, nil when every promise holds: each
// triangle in exactly one leaf, every box (straight and oriented) around its
// triangles and inside its parent's reach, leaves and depth within their limits.
// It is meant for tests; cost n log n.
func Check(t *Tree) error {
	n := len(t.mesh.Tris)
	if len(t.order) != n || len(t.slots) != n {
		return fmt.Errorf("bvh: %d triangles, but %d slots", n, len(t.slots))
	}
	seen := slices.Clone(t.order)
	slices.Sort(seen)
	for i, tri := range seen {
		if int(tri) != i {
			return fmt.Errorf("bvh: triangle %d is missing or doubled", i)
		}
	}
	for i, tri := range t.order {
		for c, v := range t.mesh.Tris[tri] {
			if t.slots[i][c] != t.mesh.Verts[v].Sub(t.origin) {
				return fmt.Errorf("bvh: slot %d does not hold triangle %d", i, tri)
			}
		}
	}
	if n == 0 {
		return nil
	}
	next, err := t.checkNode(0, 0, 0)
	if err == nil && int(next) != n {
		err = fmt.Errorf("bvh: the leaves hold %d of %d triangles", next, n)
	}
	if err != nil || len(t.octets) == 0 {
		return err
	}
	slots, err := t.checkBox(0, 0, nil)
	slices.Sort(slots)
	for i := range n {
		if err == nil && (len(slots) != n || int(slots[i]) != i) {
			err = fmt.Errorf("bvh: the octets miss or double slot %d", i)
		}
	}
	return err
}

// checkBox checks a box of the octets and what is below it, and returns slots
// with those that it holds.
func (t *Tree) checkBox(box int32, depth int, slots []int32) ([]int32, error) {
	if depth > mostOctets {
		return nil, fmt.Errorf("bvh: box %d lies %d octets deep, limit %d", box, depth, mostOctets)
	}
	o, lane := &t.octets[box/lanes], box%lanes
	already := len(slots)
	if o.count[lane] > 0 {
		for i := range o.count[lane] {
			slots = append(slots, o.at[lane]+i)
		}
	} else {
		kids := &t.octets[o.at[lane]]
		for k := range int32(lanes) {
			if kids.lo[0][k] > kids.hi[0][k] {
				continue
			}
			var err error
			if slots, err = t.checkBox(o.at[lane]*lanes+k, depth+1, slots); err != nil {
				return nil, err
			}
		}
	}
	straight, turned := o.box(lane), o.turned(lane)
	for _, s := range slots[already:] {
		for _, p := range t.slots[s] {
			if straight.Grow(p) != straight || !turned.holds(p) {
				return nil, fmt.Errorf("bvh: box %d does not hold slot %d", box, s)
			}
		}
	}
	return slots, nil
}

// checkNode checks node i, whose slots must start at from, and returns where
// they end.
func (t *Tree) checkNode(i, from int32, depth int) (to int32, err error) {
	n := &t.nodes[i]
	switch {
	case depth > maxDepth:
		return 0, fmt.Errorf("bvh: node %d lies %d deep, limit %d", i, depth, maxDepth)
	case n.count > maxLeaf:
		return 0, fmt.Errorf("bvh: leaf %d holds %d triangles, limit %d", i, n.count, maxLeaf)
	case n.count > 0 && n.at != from:
		return 0, fmt.Errorf("bvh: leaf %d starts at slot %d, want %d", i, n.at, from)
	case n.count > 0:
		to = n.at + n.count
	default:
		mid, err := t.checkNode(n.at, from, depth+1)
		if err != nil {
			return 0, err
		}
		if to, err = t.checkNode(n.at+1, mid, depth+1); err != nil {
			return 0, err
		}
	}
	for s := from; s < to; s++ {
		if !t.holds(i, s) {
			return 0, fmt.Errorf("bvh: node %d does not hold slot %d", i, s)
		}
	}
	return to, nil
}

// holds reports whether the box of node i holds the triangle in slot s.
func (t *Tree) holds(i, s int32) bool {
	box := t.nodes[i].box()
	for _, p := range t.slots[s] {
		if box.Grow(p) != box {
			return false
		}
	}
	return true
}

// holds reports whether the box holds a point.
func (b *turnedBox) holds(p geom.Vec) bool {
	for k := range 3 {
		var x float64
		for c := range 3 {
			x += float64(b.axis[k][c]) * (p[c] - float64(b.mid[c]))
		}
		if x > float64(b.half[k]) || -x > float64(b.half[k]) {
			return false
		}
	}
	return true
}
