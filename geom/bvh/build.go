package bvh

import (
	"context"
	"math"
	"runtime"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

const (
	// bins is the number of split places tried per axis. Common practice, no source.
	bins = 16
	// walkCost is the cost of visiting a node in units of one triangle test.
	// Between 0.5 and 2 the ray rate differs by less than the noise, 10 %.
	walkCost = 1.0
	// together is the number of triangles up to which a node and what is below it
	// are built, or fitted, by one processor: some milliseconds of work.
	together = 8192
)

// Build returns the tree of m. A mesh without triangles gives an empty tree,
// which nothing is near to. Cost: about n log n; some 180 bytes per triangle.
func Build(m *mesh.Mesh) *Tree {
	t := &Tree{}
	t.build(m)
	t.gather()
	t.bodies, t.shellOf = shells(m)
	return t
}

// build fills in all but the octets and the bodies.
func (t *Tree) build(m *mesh.Mesh) {
	t.mesh, t.origin = m, middle(m.Box())
	n := len(m.Tris)
	t.slots, t.order = make([]Triangle, n), make([]int32, n)
	if n == 0 {
		return
	}
	list := boxes(m, t.origin)
	b := builder{list: list, together: together, block: 1}
	b.grow()
	t.nodes, t.depth = b.nodes, b.depth
	if box := m.Box(); !geom.IsFinite(box.Min) || !geom.IsFinite(box.Max) {
		nan := float32(math.NaN())
		t.nodes[0].lo = [3]float32{nan, nan, nan} // no box holds such corners
	}
	pieces(n, func(from, to int) {
		for i := from; i < to; i++ {
			tri := list[i].triangle()
			p, q, r := m.Corners(int(tri))
			t.order[i], t.slots[i] = tri, Triangle{p.Sub(t.origin), q.Sub(t.origin), r.Sub(t.origin)}
		}
	})
}

// boxes returns the boxes of all triangles, relative to an origin.
func boxes(m *mesh.Mesh, origin geom.Vec) []boxed {
	list := make([]boxed, len(m.Tris))
	pieces(len(list), func(from, to int) {
		for i := from; i < to; i++ {
			list[i].set(m, origin, i)
		}
	})
	return list
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

// middle returns the centre of a mesh's box, each coordinate rounded to float32 so
// that subtracting it from a float32 coordinate is (nearly always) exact.
func middle(box geom.Box) geom.Vec {
	c := box.Center()
	if !geom.IsFinite(c) {
		return geom.Vec{}
	}
	for k := range c {
		c[k] = float64(float32(c[k]))
	}
	return c
}

// builder holds what only the building needs.
type builder struct {
	list  []boxed // being sorted into leaf order
	nodes []node  // children follow their parents, two by two
	depth int
	bins  binned

	together int // triangles up to which a node is left to a task; 0 leaves none
	tasks    []task
	// block is how many triangles cost a walk as much as one; runs of at most so
	// many become leaves if it is more than one.
	block int32
}

// task is a node that is built, with what is below it, by whoever is free.
type task struct {
	node  int
	run   run
	depth int
}

// grow builds the whole tree, the same for any number of processors: the nodes
// of the tasks follow those above them, task by task.
func (b *builder) grow() {
	b.nodes = make([]node, 2, len(b.list)+2)
	whole := runOf(b.list, 0, len(b.list))
	b.split(0, &whole, 0)
	done := make([]builder, len(b.tasks))
	// Neither the work nor the context can fail.
	_ = geom.Each(context.Background(), 0, len(done), nil, func(i int) error {
		k := &b.tasks[i]
		done[i] = builder{list: b.list, block: b.block, nodes: make([]node, 2, k.run.to-k.run.from+2)}
		done[i].split(0, &k.run, k.depth)
		return nil
	})
	for i := range done {
		b.depth = max(b.depth, done[i].depth)
		shift := int32(len(b.nodes) - 2)
		for k, n := range done[i].nodes {
			if n.count == 0 {
				n.at += shift
			}
			switch k {
			case 0:
				b.nodes[b.tasks[i].node] = n
			case 1: // unused
			default:
				b.nodes = append(b.nodes, n)
			}
		}
	}
}

// split fills nodes[at] for a run of triangles and builds what is below, tasks
// left out.
func (b *builder) split(at int, r *run, depth int) {
	if count := r.to - r.from; count <= b.together {
		b.tasks = append(b.tasks, task{at, *r, depth})
		return
	}
	b.depth = max(b.depth, depth)
	n := node{lo: r.box.lo, at: int32(r.from), count: int32(r.to - r.from)}
	for k := range n.hi {
		n.hi[k] = -r.box.less[k]
	}
	left, right, ok := b.cut(r, depth)
	if !ok {
		b.nodes[at] = n
		return
	}
	kid := len(b.nodes)
	n.at, n.count = int32(kid), 0
	b.nodes[at] = n
	b.nodes = append(b.nodes, node{}, node{})
	b.split(kid, &left, depth+1)
	b.split(kid+1, &right, depth+1)
}

// cut sorts a run into two; ok is false where it is to be a leaf.
func (b *builder) cut(r *run, depth int) (left, right run, ok bool) {
	n := r.to - r.from
	if n <= int(b.block) {
		return left, right, false
	}
	s := r.slicing()
	p := plan{}
	if depth < sahDepth {
		b.bins.fill(b.list[r.from:r.to], &s)
		p = b.bins.plan(int(s.count), b.block)
	}
	switch {
	case p.cut > 0 && (n > maxLeaf || walkCost+p.costMM2/r.box.halfMM2() < float32(n)):
		left, right = b.bins.sides(&p, int(s.count), r)
		partition(b.list[r.from:r.to], &s, p.axis, p.cut)
		return left, right, true
	case n <= maxLeaf:
		return left, right, false
	}
	mid := r.from + n/2 // all middles coincide, or too deep: halve as they lie
	return runOf(b.list, r.from, mid), runOf(b.list, mid, r.to), true
}

// partition moves the triangles of the low bins to the front. The order within
// each side depends on the input alone.
func partition(list []boxed, s *slicing8, axis, cut int) {
	i, j := 0, len(list)-1
	for i <= j {
		if s.bin(&list[i], axis) < cut {
			i++
			continue
		}
		list[i], list[j] = list[j], list[i]
		j--
	}
}
