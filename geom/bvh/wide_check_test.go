package bvh

import (
	"fmt"

	"aftbay/geom/mesh"
)

// checkWide returns what is wrong with a wide tree, nil when each triangle is in
// exactly one block, every box holds its triangles and no path is too long.
func checkWide(r *RayTree, m *mesh.Mesh) error {
	if r.wide == nil {
		return nil
	}
	seen := make([]int, len(m.Tris))
	if d := r.wide.levels(0); d != r.wide.depth {
		return fmt.Errorf("%d levels of nodes, noted %d", d, r.wide.depth)
	}
	if err := r.wide.check(0, 0, seen); err != nil {
		return err
	}
	for i, n := range seen {
		if n != 1 {
			return fmt.Errorf("triangle %d lies in %d blocks", i, n)
		}
	}
	for i := range r.wide.blocks {
		for k := range blockLanes {
			tri, number := r.wide.blocks[i].triangle(k)
			if number < 0 {
				if tri[0] != tri[1] || tri[0] != tri[2] {
					return fmt.Errorf("block %d: the empty lane %d is no point", i, k)
				}
				continue
			}
			a, b, c := m.Corners(int(number))
			if tri != (Triangle{a.Sub(r.origin), b.Sub(r.origin), c.Sub(r.origin)}) {
				return fmt.Errorf("block %d does not hold triangle %d", i, number)
			}
		}
	}
	return nil
}

// levels counts the levels of nodes from one on down.
func (w *wide) levels(at uint32) int {
	most := 0
	n := w.node(at)
	for k, child := range n.child {
		if n.planes[0][0][k] <= n.planes[0][1][k] && child&leafMark == 0 {
			most = max(most, w.levels(child))
		}
	}
	return 1 + most
}

// check judges a node and all below it, counts the triangles and returns nil if
// each lane's box holds all that hangs on it.
func (w *wide) check(at uint32, depth int, seen []int) error {
	if depth >= maxDepth {
		return fmt.Errorf("node %d lies %d deep, limit %d", at, depth, maxDepth)
	}
	n := w.node(at)
	for k, child := range n.child {
		var b node
		for axis := range 3 {
			b.lo[axis], b.hi[axis] = n.planes[axis][0][k], n.planes[axis][1][k]
		}
		switch {
		case b.lo[0] > b.hi[0]:
		case child&leafMark != 0:
			blk := w.block(child)
			for lane := range blockLanes {
				tri, number := blk.triangle(lane)
				if number < 0 {
					continue
				}
				seen[number]++
				for _, p := range tri {
					for axis := range 3 {
						if p[axis] < float64(b.lo[axis]) || p[axis] > float64(b.hi[axis]) {
							return fmt.Errorf("node %d lane %d does not hold triangle %d", at, k, number)
						}
					}
				}
			}
		default:
			kid := (&wide{nodes: w.nodes[child/nodeLines:]}).box()
			if kid.lo != b.lo || kid.hi != b.hi {
				return fmt.Errorf("node %d lane %d has another box than its node", at, k)
			}
			if err := w.check(child, depth+1, seen); err != nil {
				return err
			}
		}
	}
	return nil
}
