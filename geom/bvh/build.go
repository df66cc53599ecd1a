package bvh

import (
	"math"
	"sync"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

const (
	// bins is the number of split places tried per axis. Common practice, no source.
	bins = 16
	// walkCost is the cost of visiting a node in units of one triangle test.
	// Between 0.5 and 2 the ray rate differs by less than the noise, 10 %.
	walkCost = 1.0
)

// Build returns the tree of m. A mesh without triangles gives an empty tree,
// which nothing is near to. Cost: about n log n; some 230 bytes per triangle.
func Build(m *mesh.Mesh) *Tree {
	t := &Tree{}
	t.build(m)
	t.gather()
	t.bodies, t.shellOf = shells(m)
	return t
}

// build fills in all but the oriented boxes and the bodies.
func (t *Tree) build(m *mesh.Mesh) {
	t.mesh, t.origin = m, middle(m)
	n := len(m.Tris)
	b := &builder{together: together, boxes: make([]geom.Box, n), order: make([]int32, n)}
	for i := range n {
		a, c, d := m.Corners(i)
		box := geom.Box{Min: a, Max: a}.Grow(c).Grow(d)
		box.Min, box.Max = box.Min.Sub(t.origin), box.Max.Sub(t.origin)
		b.boxes[i], b.order[i] = box, int32(i)
	}
	if n > 0 {
		b.nodes = make([]node, 2, n+2)
		b.split(0, 0, n, 0)
	}
	t.nodes, t.depth = b.nodes, b.depth
	t.order = b.order
	t.slots = make([]Triangle, n)
	for i, tri := range t.order {
		p, q, r := m.Corners(int(tri))
		t.slots[i] = Triangle{p.Sub(t.origin), q.Sub(t.origin), r.Sub(t.origin)}
	}
}

// middle returns the centre of the mesh, each coordinate rounded to float32 so
// that subtracting it from a float32 coordinate is (nearly always) exact.
func middle(m *mesh.Mesh) geom.Vec {
	c := m.Box().Center()
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
	boxes []geom.Box // boxes[t]: of triangle t, relative to the origin
	order []int32    // being sorted into leaf order
	nodes []node     // children follow their parents, two by two
	depth int

	together int // triangles from which children are built side by side
}

// split fills nodes[at] for the triangles order[from:to] and builds what is below.
func (b *builder) split(at, from, to, depth int) {
	b.depth = max(b.depth, depth)
	box, mids := geom.EmptyBox(), geom.EmptyBox()
	for _, i := range b.order[from:to] {
		o := &b.boxes[i]
		for k := range 3 {
			box.Min[k], box.Max[k] = min(box.Min[k], o.Min[k]), max(box.Max[k], o.Max[k])
			mid := 0.5 * (o.Min[k] + o.Max[k])
			mids.Min[k], mids.Max[k] = min(mids.Min[k], mid), max(mids.Max[k], mid)
		}
	}
	n := node{lo: down(box.Min), hi: up(box.Max), at: int32(from), count: int32(to - from)}
	cut := b.cut(from, to, depth, box, mids)
	if cut == from {
		b.nodes[at] = n
		return
	}
	kid := len(b.nodes)
	n.at, n.count = int32(kid), 0
	b.nodes[at] = n
	b.nodes = append(b.nodes, node{}, node{})
	if to-from > b.together {
		b.both(kid, from, cut, to, depth+1)
		return
	}
	b.split(kid, from, cut, depth+1)
	b.split(kid+1, cut, to, depth+1)
}

// together is the number of triangles from which both children of a node are
// built side by side: some milliseconds of work.
const together = 8192

// both builds two children side by side and puts their nodes where one after the
// other would have put them: the tree is the same for any number of processors.
func (b *builder) both(kid, from, cut, to, depth int) {
	var sides [2]builder
	for k := range sides {
		sides[k] = builder{together: b.together, boxes: b.boxes, order: b.order, nodes: make([]node, 2, to-from)}
	}
	var other sync.WaitGroup
	other.Go(func() { sides[1].split(0, cut, to, depth) })
	sides[0].split(0, from, cut, depth)
	other.Wait()
	for k := range sides {
		b.depth = max(b.depth, sides[k].depth)
		b.nodes[kid+k] = sides[k].nodes[0]
		shift := int32(len(b.nodes) - 2)
		if b.nodes[kid+k].count == 0 {
			b.nodes[kid+k].at += shift
		}
		for _, n := range sides[k].nodes[2:] {
			if n.count == 0 {
				n.at += shift
			}
			b.nodes = append(b.nodes, n)
		}
	}
}

// cut orders order[from:to] so that the first child is order[from:cut] and
// returns cut; from itself means "make a leaf".
func (b *builder) cut(from, to, depth int, box, mids geom.Box) int {
	n := to - from
	if n <= 1 {
		return from
	}
	p := b.plan(from, to, mids)
	leafCost := float64(n)
	if p.cut > 0 && depth < sahDepth {
		if area := halfAreaMM2(&box); n > maxLeaf || walkCost+p.costMM2/area < leafCost {
			return b.partition(from, to, mids, p)
		}
		return from
	}
	if n <= maxLeaf {
		return from
	}
	return from + n/2 // all middles coincide, or too deep: halve as they lie
}

// plan is the cheapest way found to cut a node in two.
type plan struct {
	axis, cut int     // triangles in bins below cut go first; 0: no cut found
	bins      int     // number of bins the node was sliced into
	costMM2   float64 // sum of child area times triangles
}

// plan finds the cheapest cut over all axes and bins.
func (b *builder) plan(from, to int, mids geom.Box) plan {
	best := plan{costMM2: math.Inf(1), bins: min(bins, to-from)}
	for axis := range 3 {
		if !(mids.Max[axis] > mids.Min[axis]) {
			continue
		}
		var all [bins]bin
		for k := range all {
			all[k].box = geom.EmptyBox()
		}
		for _, i := range b.order[from:to] {
			k := &all[binOf(&b.boxes[i], &mids, axis, best.bins)]
			k.count++
			k.box = union(k.box, b.boxes[i])
		}
		if cut, costMM2 := sweep(all[:best.bins]); costMM2 < best.costMM2 {
			best.axis, best.cut, best.costMM2 = axis, cut, costMM2
		}
	}
	return best
}

// bin is what lies in one slice of a node.
type bin struct {
	box   geom.Box
	count int
}

// sweep returns the cheapest cut between bins; infinite when there is none.
func sweep(all []bin) (cut int, costMM2 float64) {
	var rightMM2 [bins]float64 // rightMM2[k]: cost of bins k and above
	acc, n := geom.EmptyBox(), 0
	for k := len(all) - 1; k > 0; k-- {
		if all[k].count > 0 {
			acc, n = union(acc, all[k].box), n+all[k].count
		}
		if n > 0 {
			rightMM2[k] = float64(n) * halfAreaMM2(&acc)
		}
	}
	costMM2 = math.Inf(1)
	total := n + all[0].count
	acc, n = geom.EmptyBox(), 0
	for k := 1; k < len(all); k++ {
		if all[k-1].count == 0 {
			continue
		}
		acc, n = union(acc, all[k-1].box), n+all[k-1].count
		if n == total {
			break
		}
		if sumMM2 := float64(n)*halfAreaMM2(&acc) + rightMM2[k]; sumMM2 < costMM2 {
			cut, costMM2 = k, sumMM2
		}
	}
	return cut, costMM2
}

// partition moves the triangles of the low bins to the front and returns where
// the others start. The order within each side depends on the input alone.
func (b *builder) partition(from, to int, mids geom.Box, p plan) int {
	i, j := from, to-1
	for i <= j {
		if binOf(&b.boxes[b.order[i]], &mids, p.axis, p.bins) < p.cut {
			i++
			continue
		}
		b.order[i], b.order[j] = b.order[j], b.order[i]
		j--
	}
	return i
}

// binOf returns which of n bins a triangle's box lies in along axis, 0..n-1.
func binOf(box, mids *geom.Box, axis, n int) int {
	width := mids.Max[axis] - mids.Min[axis]
	x := (0.5*(box.Min[axis]+box.Max[axis]) - mids.Min[axis]) / width * float64(n)
	if !(x > 0) {
		return 0
	}
	return min(int(x), n-1)
}

// union is Box.Union without the detour over corner points.
func union(a, b geom.Box) geom.Box {
	for k := range 3 {
		a.Min[k] = min(a.Min[k], b.Min[k])
		a.Max[k] = max(a.Max[k], b.Max[k])
	}
	return a
}

// halfAreaMM2 returns half the surface of a box that is not empty.
func halfAreaMM2(b *geom.Box) float64 {
	x, y, z := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1], b.Max[2]-b.Min[2]
	return x*y + y*z + z*x
}

// down returns v in float32, each coordinate smaller than in v.
func down(v geom.Vec) (f [3]float32) {
	for k := range f {
		f[k] = math.Nextafter32(float32(v[k]), float32(math.Inf(-1)))
	}
	return f
}

// up returns v in float32, each coordinate larger than in v.
func up(v geom.Vec) (f [3]float32) {
	for k := range f {
		f[k] = math.Nextafter32(float32(v[k]), float32(math.Inf(1)))
	}
	return f
}
