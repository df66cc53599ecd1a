package bvh

import (
	"math"

	"aftbay/geom"
)

// Node is what a walk of one's own may know of a node of the tree; node 0 is
// the root of a tree that is not empty.
type Node struct {
	Mid      geom.Vec // middle of its box, relative to the tree's origin
	RadiusMM float64  // of a ball around Mid that holds every triangle of the node
	Left     int      // first of two children, Left and Left+1; 0 for a leaf
	First    int      // leaf: first slot
	Count    int      // leaf: number of slots; else 0
}

// Node returns node i.
func (t *Tree) Node(i int) Node {
	n := &t.nodes[i]
	var out Node
	var sum float64
	for k := range 3 {
		lo, hi := float64(n.lo[k]), float64(n.hi[k])
		out.Mid[k] = 0.5 * (lo + hi)
		sum += (hi - lo) * (hi - lo)
	}
	out.RadiusMM = 0.5 * math.Sqrt(sum)
	if n.count > 0 {
		out.First, out.Count = int(n.at), int(n.count)
	} else {
		out.Left = int(n.at)
	}
	return out
}

// box returns the node's box, relative to the tree's origin.
func (n *node) box() (b geom.Box) {
	for k := range 3 {
		b.Min[k], b.Max[k] = float64(n.lo[k]), float64(n.hi[k])
	}
	return b
}

// halfMM2 returns half the surface of the node's box.
func (n *node) halfMM2() float32 {
	x, y, z := n.hi[0]-n.lo[0], n.hi[1]-n.lo[1], n.hi[2]-n.lo[2]
	return float32(x*y) + float32(y*z) + float32(z*x)
}
