package bvh

import (
	"context"
	"runtime"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// wideBuilder holds what only the building needs.
type wideBuilder struct {
	prims []prim // being sorted into leaf order
	apart int    // spans of at most so many triangles are left to tasks; 0: none
	nodes []wideNode
	leaf  []span // leaf[i]: triangles of block i
	tasks []wideTask
}

// wideTask is a span whose nodes are built by another worker.
type wideTask struct {
	node, lane int // where its node belongs
	depth      int
	span       span
}

const (
	// tasksWanted is how many spans a large mesh falls into for the workers.
	tasksWanted = 32
	// leastTask is a span too small to be worth handing over.
	leastTask = 2048
)

// buildWide returns the wide tree of a mesh with triangles, the same for any
// number of processors; nil where its box is too large for float32 products.
func buildWide(m *mesh.Mesh, origin geom.Vec) *wide {
	prims := make([]prim, len(m.Tris))
	pieces(len(prims), func(from, to int) {
		for i := from; i < to; i++ {
			prims[i].set(m, origin, i)
		}
	})
	all := emptySpan(0, len(prims))
	for i := range prims {
		all.add(&prims[i])
	}
	for k := range 3 {
		if !(all.box.lo[k] > -wideMostMM && all.box.hi[k] < wideMostMM) {
			return nil
		}
	}
	b := &wideBuilder{prims: prims, apart: max(leastTask, len(prims)/tasksWanted)}
	b.node(&all, 0)
	b.finish()
	w := &wide{nodes: b.nodes, blocks: make([]block, len(b.leaf))}
	pieces(len(b.leaf), func(from, to int) {
		for i := from; i < to; i++ {
			w.blocks[i].gather(m, origin, prims[b.leaf[i].from:b.leaf[i].to])
		}
	})
	return w
}

// pieces runs do over pieces of [0, n) on all processors.
func pieces(n int, do func(from, to int)) {
	const least = 4096
	count := min(4*runtime.GOMAXPROCS(0), (n+least-1)/least)
	// Neither do nor the context can fail.
	_ = geom.Each(context.Background(), 0, count, nil, func(i int) error {
		do(n*i/count, n*(i+1)/count)
		return nil
	})
}

// node appends the node of a span and all below it, tasks left out, and returns
// its number: the span is split up to eight times, the largest box first.
func (b *wideBuilder) node(s *span, depth int) int {
	at := len(b.nodes)
	b.nodes = append(b.nodes, emptyNode())
	var parts [lanes]span
	parts[0] = *s
	n := 1
	for n < lanes {
		k := largest(parts[:n])
		if k < 0 {
			break
		}
		parts[k], parts[n] = b.split(&parts[k], depth)
		n++
	}
	for k := range n {
		b.nodes[at].setBox(k, &parts[k].box)
		b.nodes[at].child[k] = b.child(&parts[k], at, k, depth)
	}
	return at
}

// child returns the child for a span: a block, a node or, for now, a task.
func (b *wideBuilder) child(s *span, node, lane, depth int) uint32 {
	switch n := s.to - s.from; {
	case n <= blockLanes:
		b.leaf = append(b.leaf, *s)
		return uint32(len(b.leaf)-1) | leafMark
	case n <= b.apart:
		b.tasks = append(b.tasks, wideTask{node: node, lane: lane, depth: depth + 1, span: *s})
		return 0
	}
	return uint32(b.node(s, depth+1))
}

// finish runs the tasks and hangs what they built in, in their order.
func (b *wideBuilder) finish() {
	built := make([]wideBuilder, len(b.tasks))
	_ = geom.Each(context.Background(), 0, len(b.tasks), nil, func(i int) error {
		built[i].prims = b.prims
		built[i].node(&b.tasks[i].span, b.tasks[i].depth)
		return nil
	})
	for i := range built {
		t := &b.tasks[i]
		nodes, leaves := uint32(len(b.nodes)), uint32(len(b.leaf))
		b.nodes[t.node].child[t.lane] = nodes
		for _, n := range built[i].nodes {
			n.shift(nodes, leaves)
			b.nodes = append(b.nodes, n)
		}
		b.leaf = append(b.leaf, built[i].leaf...)
	}
}

// largest returns the span with the largest box that needs more than a block,
// -1 for none.
func largest(parts []span) int {
	best, bestMM2 := -1, float32(-1)
	for k := range parts {
		if p := &parts[k]; p.to-p.from > blockLanes && p.box.halfMM2() > bestMM2 {
			best, bestMM2 = k, p.box.halfMM2()
		}
	}
	return best
}

// gather fills the block with the triangles of some boxes.
func (b *block) gather(m *mesh.Mesh, origin geom.Vec, prims []prim) {
	for k := range blockLanes {
		p := &prims[min(k, len(prims)-1)]
		b.tri[k] = p.tri
		corners := m.Tris[p.tri]
		if k >= len(prims) { // an empty lane: a point
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
