package bvh

import (
	"context"
	"runtime"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// twin is a node of the binary tree that a wide tree is made from.
type twin struct {
	box      box32
	from, to int   // its triangles
	kid      int32 // first of its two children, side by side; 0 for a block

	// cost[n-1] is the least cost of the nodes and blocks below when the twin
	// takes up to n lanes of a wide node, in mm² of box; share[n-1] is how many
	// of them its first child takes then, 0 where the twin takes one as it is.
	cost  [lanes]float32
	share [lanes]uint8
}

// wideBuilder holds what only the building needs.
type wideBuilder struct {
	prims []prim // being sorted into leaf order
	apart int    // spans of at most so many triangles are left to tasks; 0: none
	twins []twin // children stand after their parents
	tasks []wideTask
	wide  *wide
	leaf  []int32 // leaf[i]: twin of block i
}

// wideTask is a span that another worker builds the twins of.
type wideTask struct {
	at    int32 // its place
	depth int
	span  span
}

const (
	// tasksWanted is how many spans a large mesh falls into for the workers.
	tasksWanted = 32
	// leastTask is a span too small to be worth handing over.
	leastTask = 2048
	// blockCost is what a block costs in units of a wide node.
	blockCost = 1
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
	b := &wideBuilder{prims: prims, apart: max(leastTask, len(prims)/tasksWanted), twins: make([]twin, 1, len(prims)), wide: &wide{}}
	b.twin(0, &all, 0)
	b.finish()
	b.price()
	b.emit(0)
	w := b.wide
	w.blocks = make([]block, len(b.leaf))
	pieces(len(b.leaf), func(from, to int) {
		for i := from; i < to; i++ {
			t := &b.twins[b.leaf[i]]
			w.blocks[i].gather(m, origin, prims[t.from:t.to])
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

// twin fills in twin number at and appends those below it.
func (b *wideBuilder) twin(at int32, s *span, depth int) {
	n := s.to - s.from
	t := twin{box: s.box, from: s.from, to: s.to}
	switch {
	case n <= blockLanes:
		b.twins[at] = t
		return
	case n <= b.apart:
		b.tasks = append(b.tasks, wideTask{at, depth, *s})
		return
	}
	left, right := b.split(s, depth)
	t.kid = int32(len(b.twins))
	b.twins[at] = t
	b.twins = append(b.twins, twin{}, twin{})
	b.twin(t.kid, &left, depth+1)
	b.twin(t.kid+1, &right, depth+1)
}

// finish runs the tasks and hangs what they built in, in their order.
func (b *wideBuilder) finish() {
	built := make([]wideBuilder, len(b.tasks))
	_ = geom.Each(context.Background(), 0, len(b.tasks), nil, func(i int) error {
		s := &b.tasks[i].span
		built[i].prims, built[i].twins = b.prims, make([]twin, 1, s.to-s.from)
		built[i].twin(0, s, b.tasks[i].depth)
		return nil
	})
	for i := range built {
		shift := int32(len(b.twins) - 1)
		for k := range built[i].twins {
			t := &built[i].twins[k]
			if t.kid > 0 {
				t.kid += shift
			}
		}
		b.twins[b.tasks[i].at] = built[i].twins[0]
		b.twins = append(b.twins, built[i].twins[1:]...)
	}
}

// price finds out, from below, how to spread each twin over lanes at the least
// cost: a chance of being visited in proportion to the area of its box for each
// node and block.
//
// Source: H. Ylitie, T. Karras, S. Laine, "Efficient incoherent ray traversal on
// GPUs through compressed wide BVHs", HPG 2017, section 3.1 (cited from memory).
func (b *wideBuilder) price() {
	for i := len(b.twins) - 1; i >= 0; i-- {
		t := &b.twins[i]
		if t.kid == 0 {
			for n := range t.cost {
				t.cost[n] = blockCost * t.box.halfMM2()
			}
			continue
		}
		left, right := &b.twins[t.kid].cost, &b.twins[t.kid+1].cost
		for n := 1; n < lanes; n++ {
			t.cost[n] = left[0] + right[n-1]
			t.share[n] = 1
			for k := 1; k < n; k++ {
				if c := left[k] + right[n-1-k]; c < t.cost[n] {
					t.cost[n], t.share[n] = c, uint8(k+1)
				}
			}
		}
		t.cost[0] = t.box.halfMM2() + t.cost[lanes-1]
		for n := 1; n < lanes-1; n++ { // as one lane, a node of its own
			if t.cost[n-1] <= t.cost[n] {
				t.cost[n], t.share[n] = t.cost[n-1], t.share[n-1]
			}
		}
	}
}

// emit appends the wide node of a twin and all below it, and returns its number.
func (b *wideBuilder) emit(at int32) uint32 {
	node := len(b.wide.nodes)
	b.wide.nodes = append(b.wide.nodes, emptyNode())
	var taken [lanes]int32
	n := b.spread(at, lanes, taken[:0])
	for k, i := range n {
		t := &b.twins[i]
		child := uint32(len(b.leaf)) | leafMark
		if t.kid == 0 {
			b.leaf = append(b.leaf, i)
		} else {
			child = b.emit(i)
		}
		b.wide.nodes[node].setBox(k, &t.box)
		b.wide.nodes[node].child[k] = child
	}
	return uint32(node)
}

// spread appends the twins that a twin takes up to n lanes with; all lanes are
// its own where n is their number.
func (b *wideBuilder) spread(at int32, n int, taken []int32) []int32 {
	t := &b.twins[at]
	k := int(t.share[n-1])
	if t.kid == 0 || k == 0 {
		return append(taken, at)
	}
	return b.spread(t.kid+1, n-k, b.spread(t.kid, k, taken))
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
