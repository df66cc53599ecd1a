package bvh

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
)

// RayTree is a tree that answers rays alone. It goes without the oriented boxes
// and the bodies that distances need, which are over half the work of Build.
type RayTree struct{ tree Tree }

// BuildRays returns the ray tree of m; rays meet the same triangles as in
// Build's. Cost: about n log n; some 110 bytes per triangle.
func BuildRays(m *mesh.Mesh) *RayTree {
	r := &RayTree{}
	r.tree.build(m)
	return r
}

// Box returns the box of the mesh, as Tree.Box.
func (r *RayTree) Box() geom.Box { return r.tree.Box() }

// FirstHit is Tree.FirstHit.
func (r *RayTree) FirstHit(origin, dir geom.Vec, farMM float64) (Hit, bool) {
	return r.tree.Cast(Ray{Origin: origin, Dir: dir, FarMM: farMM})
}

// Cast is Tree.Cast.
func (r *RayTree) Cast(ray Ray) (Hit, bool) { return r.tree.Cast(ray) }

// InBox calls see with every triangle whose box reaches into a box or touches
// it, until see returns false.
func (r *RayTree) InBox(box geom.Box, see func(tri int) bool) {
	t := &r.tree
	if len(t.slots) == 0 {
		return
	}
	for k := range 3 {
		box.Min[k], box.Max[k] = box.Min[k]-t.origin[k], box.Max[k]-t.origin[k]
	}
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
			own := geom.EmptyBox()
			for _, v := range t.slots[i] {
				own = own.Grow(v)
			}
			if own.GapMM(box) <= 0 && !see(int(t.order[i])) {
				return
			}
		}
	}
}

// reaches reports whether a node's box meets a box.
func reaches(box geom.Box, n *node) bool {
	for k := range 3 {
		if box.Min[k] > float64(n.hi[k]) || box.Max[k] < float64(n.lo[k]) {
			return false
		}
	}
	return true
}
