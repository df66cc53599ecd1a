package bvh

import (
	"sync"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

const (
	// maxLeaf is the largest number of triangles in a leaf.
	maxLeaf = 4
	// maxDepth bounds the levels below the root: sahDepth levels chosen by
	// cost, then halving, which needs at most 31 more for 2^31 triangles.
	maxDepth = sahDepth + 32
	// sahDepth is the level from which nodes are halved whatever it costs, so
	// that the walks can use a fixed stack.
	sahDepth = 60
)

// Tree is a bounding-volume tree over one mesh.
type Tree struct {
	mesh    *mesh.Mesh
	origin  geom.Vec
	nodes   []node     // nodes[0] is the root, nodes[1] unused; siblings at 2k, 2k+1
	octets  []octet    // the nodes' boxes for distances, eight by eight; empty for rays alone
	reachMM float64    // how far any box of the octets reaches from the origin
	slots   []Triangle // triangles in leaf order, corners relative to origin
	order   []int32    // order[slot]: index of the triangle in the mesh
	bodies  []Shell
	shellOf []int32 // shellOf[t]: body of triangle t; nil when there is only one
	depth   int
	plain   bool // its octets are walked without vectors, see Plainly

	doubling sync.Mutex
	doubled  []geom.Box // see Doubled
	known    bool       // whether doubled is
}

// Plainly returns a tree over the same boxes and triangles whose walks for
// distances use no vector instructions: for comparison. They show the same leaves
// in the same order.
func (t *Tree) Plainly() *Tree {
	return &Tree{
		mesh: t.mesh, origin: t.origin, nodes: t.nodes, octets: t.octets, reachMM: t.reachMM,
		slots: t.slots, order: t.order, bodies: t.bodies, shellOf: t.shellOf, depth: t.depth, plain: true,
	}
}

// Doubled returns the boxes that find gives for the tree's mesh, asking only until
// it gives them without an error: what is dear to know of a mesh stays with its
// tree. The caller must not change them.
func (t *Tree) Doubled(find func() ([]geom.Box, error)) ([]geom.Box, error) {
	t.doubling.Lock()
	defer t.doubling.Unlock()
	if t.known {
		return t.doubled, nil
	}
	boxes, err := find()
	if err == nil {
		t.doubled, t.known = boxes, true
	}
	return boxes, err
}

// Triangle is three corner points.
type Triangle [3]geom.Vec

// node is one axis-aligned box of the tree, relative to the origin, mm.
type node struct {
	lo, hi [3]float32
	at     int32 // leaf: first slot; else index of the first of two children
	count  int32 // leaf: number of triangles; else 0
}

// Shell is one connected body of the mesh.
type Shell struct {
	Point geom.Vec // a corner of the body, part frame
	Box   geom.Box // part frame
	Tri   int      // a triangle of the body
}

// Mesh returns the mesh the tree was built over.
func (t *Tree) Mesh() *mesh.Mesh { return t.mesh }

// Origin returns the part point that slot corners are relative to.
func (t *Tree) Origin() geom.Vec { return t.origin }

// Len returns the number of triangles.
func (t *Tree) Len() int { return len(t.slots) }

// Slot returns the triangle in leaf position i, corners relative to Origin.
// The caller must not change it.
func (t *Tree) Slot(i int) *Triangle { return &t.slots[i] }

// Tri returns the mesh index of the triangle in leaf position i.
func (t *Tree) Tri(i int) int { return int(t.order[i]) }

// Shells returns the connected bodies of the mesh. The caller must not change them.
func (t *Tree) Shells() []Shell { return t.bodies }

// ShellOf returns the place in Shells of the body that triangle tri belongs to.
func (t *Tree) ShellOf(tri int) int {
	if t.shellOf == nil {
		return 0
	}
	return int(t.shellOf[tri])
}

// Box returns the box of the mesh, part frame, rounded outward; empty for a
// mesh without triangles.
func (t *Tree) Box() geom.Box {
	b := geom.EmptyBox()
	if len(t.slots) == 0 {
		return b
	}
	n := &t.nodes[0]
	for k := range 3 {
		b.Min[k] = float64(n.lo[k]) + t.origin[k]
		b.Max[k] = float64(n.hi[k]) + t.origin[k]
	}
	return b
}
