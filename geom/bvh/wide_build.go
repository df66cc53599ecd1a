package bvh

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// collapse makes a wide tree of a binary one.
type collapse struct {
	nodes []node // of the binary tree, children after their parents
	wide  *wide
	leaf  []int32 // leaf[i]: node of block i
	// costMM2[i][n-1] is the least cost of what is below node i when it takes up
	// to n lanes of a wide node; share[i][n-1] is how many of them its first child
	// takes then, 0 where the node takes one as it is.
	costMM2 [][lanes]float32
	share   [][lanes]uint8
}

// buildWide returns the wide tree of a mesh with triangles within wideMostMM of
// the origin, the same for any number of processors.
func buildWide(m *mesh.Mesh, origin geom.Vec) *wide {
	b := builder{list: boxes(m, origin), together: together, block: blockLanes}
	b.grow()
	n := len(b.nodes)
	c := &collapse{nodes: b.nodes, wide: &wide{}, costMM2: make([][lanes]float32, n), share: make([][lanes]uint8, n)}
	for i := n - 1; i >= 0; i-- {
		c.price(i)
	}
	c.emit(0, 1)
	w := c.wide
	w.blocks = make([]block, len(c.leaf))
	pieces(len(c.leaf), func(from, to int) {
		for i := from; i < to; i++ {
			n := &c.nodes[c.leaf[i]]
			w.blocks[i].gather(m, origin, b.list[n.at:n.at+n.count])
		}
	})
	return w
}

// price finds out how to spread a node over lanes at the least cost: a chance of
// being visited in proportion to the area of its box for each wide node and each
// block. The nodes below are priced.
//
// Source: H. Ylitie, T. Karras, S. Laine, "Efficient incoherent ray traversal on
// GPUs through compressed wide BVHs", HPG 2017, section 3.1 (cited from memory).
func (c *collapse) price(i int) {
	n, costMM2, share := &c.nodes[i], &c.costMM2[i], &c.share[i]
	if n.count > 0 || i == 1 { // a block; node 1 is none
		for k := range costMM2 {
			costMM2[k] = n.halfMM2()
		}
		return
	}
	left, right := &c.costMM2[n.at], &c.costMM2[n.at+1]
	for k := 1; k < lanes; k++ {
		costMM2[k], share[k] = left[0]+right[k-1], 1
		for j := 1; j < k; j++ {
			if sumMM2 := left[j] + right[k-1-j]; sumMM2 < costMM2[k] {
				costMM2[k], share[k] = sumMM2, uint8(j+1)
			}
		}
	}
	costMM2[0] = n.halfMM2() + costMM2[lanes-1]
	for k := 1; k < lanes-1; k++ { // as one lane, a wide node of its own
		if costMM2[k-1] <= costMM2[k] {
			costMM2[k], share[k] = costMM2[k-1], share[k-1]
		}
	}
}

// emit appends the wide node of a node and all below it, and returns its number.
func (c *collapse) emit(at int32, depth int) uint32 {
	c.wide.depth = max(c.wide.depth, depth)
	number := len(c.wide.nodes)
	c.wide.nodes = append(c.wide.nodes, emptyNode())
	var room [lanes]int32
	for k, i := range c.spread(at, lanes, room[:0]) {
		n := &c.nodes[i]
		child := uint32(len(c.leaf)*blockLines) | leafMark
		if n.count > 0 {
			c.leaf = append(c.leaf, i)
		} else {
			child = c.emit(i, depth+1)
		}
		w := &c.wide.nodes[number]
		for axis := range 3 {
			w.planes[axis][0][k], w.planes[axis][1][k] = n.lo[axis], n.hi[axis]
		}
		w.child[k] = child
	}
	return uint32(number * nodeLines)
}

// spread appends the nodes that a node takes up to n lanes with.
func (c *collapse) spread(at int32, n int, taken []int32) []int32 {
	k := int(c.share[at][n-1])
	if k == 0 {
		return append(taken, at)
	}
	kid := c.nodes[at].at
	return c.spread(kid+1, n-k, c.spread(kid, k, taken))
}

// emptyNode returns a wide node without children.
func emptyNode() (w wideNode) {
	inf := float32(math.Inf(1))
	for k := range lanes {
		for axis := range 3 {
			w.planes[axis][0][k], w.planes[axis][1][k] = inf, -inf
		}
	}
	return w
}

// gather fills the block with the triangles of some boxes.
func (b *block) gather(m *mesh.Mesh, origin geom.Vec, list []boxed) {
	for k := range blockLanes {
		number := list[min(k, len(list)-1)].triangle()
		b.tri[k] = number
		corners := m.Tris[number]
		if k >= len(list) { // an empty lane: a point
			b.tri[k], corners[1], corners[2] = -1, corners[0], corners[0]
		}
		for c, v := range corners {
			at := m.Verts[v].Sub(origin)
			for axis := range 3 {
				b.cornersMM[axis][c][k] = at[axis]
			}
		}
	}
}
