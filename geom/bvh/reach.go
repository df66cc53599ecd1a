package bvh

import (
	"math"

	"aftbay/geom"
)

// Furthest returns the largest component of the mesh's corners along a direction of
// its part frame; -Inf for a mesh without triangles. Cost: about log n. It
// allocates nothing.
func (t *Tree) Furthest(along geom.Vec) float64 {
	most := math.Inf(-1)
	if len(t.slots) == 0 {
		return most
	}
	// The slack covers that corners and boxes are summed up in another order.
	slackMM := 1e-14 * (math.Abs(t.origin.Dot(along)) + along.Len()*(t.reachMM+t.origin.Len()))
	base := t.origin.Dot(along) + slackMM
	var stack [maxDepth + 2]int32
	for top := 1; top > 0; {
		top--
		n := &t.nodes[stack[top]]
		if base+n.along(&along) < most {
			continue
		}
		if n.count == 0 {
			near, far := n.at, n.at+1
			if t.nodes[near].along(&along) < t.nodes[far].along(&along) {
				near, far = far, near
			}
			stack[top], stack[top+1] = far, near
			top += 2
			continue
		}
		for i := n.at; i < n.at+n.count; i++ {
			for _, v := range t.mesh.Tris[t.order[i]] {
				most = max(most, along.Dot(t.mesh.Verts[v]))
			}
		}
	}
	return most
}

// along returns the largest component of the box along a direction, relative to
// the origin.
func (n *node) along(dir *geom.Vec) float64 {
	var sum float64
	for k := range 3 {
		sum += max(dir[k]*float64(n.lo[k]), dir[k]*float64(n.hi[k]))
	}
	return sum
}
