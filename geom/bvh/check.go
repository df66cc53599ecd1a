package bvh

import (
	"fmt"
	"slices"
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
	return err
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

// holds reports whether both boxes of node i hold the triangle in slot s.
func (t *Tree) holds(i, s int32) bool {
	n, b := &t.nodes[i], &t.turned[i]
	for _, p := range t.slots[s] {
		for k := range 3 {
			if p[k] < float64(n.lo[k]) || p[k] > float64(n.hi[k]) {
				return false
			}
			var x float64
			for c := range 3 {
				x += float64(b.axis[k][c]) * (p[c] - float64(b.mid[c]))
			}
			if x > float64(b.half[k]) || -x > float64(b.half[k]) {
				return false
			}
		}
	}
	return true
}
