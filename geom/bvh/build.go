package bvh

import (
	"math"

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
// which nothing is near to. Cost: about n log n; some 200 bytes per triangle.
func Build(m *mesh.Mesh) *Tree {
	t := &Tree{mesh: m, origin: middle(m)}
	n := len(m.Tris)
	b := &builder{tree: t, boxes: make([]geom.Box, n), order: make([]int32, n)}
	for i := range n {
		a, c, d := m.Corners(i)
		box := geom.Box{Min: a, Max: a}.Grow(c).Grow(d)
		box.Min, box.Max = box.Min.Sub(t.origin), box.Max.Sub(t.origin)
		b.boxes[i], b.order[i] = box, int32(i)
	}
	if n > 0 {
		t.nodes = make([]node, 2, n+2)
		b.split(0, 0, n, 0)
	}
	t.order = b.order
	t.slots = make([]Triangle, n)
	for i, tri := range t.order {
		p, q, r := m.Corners(int(tri))
		t.slots[i] = Triangle{p.Sub(t.origin), q.Sub(t.origin), r.Sub(t.origin)}
	}
	t.turned = turn(t)
	t.bodies, t.shellOf = shells(m)
	return t
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
	tree  *Tree
	boxes []geom.Box // boxes[t]: of triangle t, relative to the origin
	order []int32    // being sorted into leaf order
}

// split fills nodes[at] for the triangles order[from:to] and builds what is below.
func (b *builder) split(at, from, to, depth int) {
	b.tree.depth = max(b.tree.depth, depth)
	box, mids := geom.EmptyBox(), geom.EmptyBox()
	for _, i := range b.order[from:to] {
		box = union(box, b.boxes[i])
		mids = mids.Grow(b.boxes[i].Center())
	}
	n := node{lo: down(box.Min), hi: up(box.Max), at: int32(from), count: int32(to - from)}
	cut := b.cut(from, to, depth, box, mids)
	if cut == from {
		b.tree.nodes[at] = n
		return
	}
	kid := len(b.tree.nodes)
	n.at, n.count = int32(kid), 0
	b.tree.nodes[at] = n
	b.tree.nodes = append(b.tree.nodes, node{}, node{})
	b.split(kid, from, cut, depth+1)
	b.split(kid+1, cut, to, depth+1)
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
	if p.bin > 0 && depth < sahDepth {
		if area := halfAreaMM2(box); n > maxLeaf || walkCost+p.costMM2/area < leafCost {
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
	axis, bin int     // triangles in bins below bin go first; 0: no cut found
	costMM2   float64 // sum of child area times triangles
}

// plan finds the cheapest cut over all axes and bins.
func (b *builder) plan(from, to int, mids geom.Box) plan {
	best := plan{costMM2: math.Inf(1)}
	for axis := range 3 {
		if !(mids.Max[axis] > mids.Min[axis]) {
			continue
		}
		var count [bins]int
		var box [bins]geom.Box
		for k := range box {
			box[k] = geom.EmptyBox()
		}
		for _, i := range b.order[from:to] {
			k := binOf(b.boxes[i], mids, axis)
			count[k]++
			box[k] = union(box[k], b.boxes[i])
		}
		if p := sweep(&count, &box); p.bin > 0 && p.costMM2 < best.costMM2 {
			best = plan{axis: axis, bin: p.bin, costMM2: p.costMM2}
		}
	}
	return best
}

// sweep returns the cheapest cut between the bins of one axis.
func sweep(count *[bins]int, box *[bins]geom.Box) plan {
	var right [bins]float64 // right[k]: cost of bins k and above, mm2
	acc, n := geom.EmptyBox(), 0
	for k := bins - 1; k > 0; k-- {
		acc, n = union(acc, box[k]), n+count[k]
		right[k] = float64(n) * halfAreaMM2(acc)
	}
	total := n + count[0]
	best := plan{costMM2: math.Inf(1)}
	acc, n = geom.EmptyBox(), 0
	for k := 1; k < bins; k++ {
		acc, n = union(acc, box[k-1]), n+count[k-1]
		if n == 0 || n == total {
			continue
		}
		if costMM2 := float64(n)*halfAreaMM2(acc) + right[k]; costMM2 < best.costMM2 {
			best = plan{bin: k, costMM2: costMM2}
		}
	}
	return best
}

// partition moves the triangles of the low bins to the front and returns where
// the others start. The order within each side depends on the input alone.
func (b *builder) partition(from, to int, mids geom.Box, p plan) int {
	i, j := from, to-1
	for i <= j {
		if binOf(b.boxes[b.order[i]], mids, p.axis) < p.bin {
			i++
			continue
		}
		b.order[i], b.order[j] = b.order[j], b.order[i]
		j--
	}
	return i
}

// binOf returns the bin of a triangle's box along axis, 0..bins-1.
func binOf(box, mids geom.Box, axis int) int {
	width := mids.Max[axis] - mids.Min[axis]
	x := (0.5*(box.Min[axis]+box.Max[axis]) - mids.Min[axis]) / width * bins
	if !(x > 0) {
		return 0
	}
	return min(int(x), bins-1)
}

// union is Box.Union without the detour over corner points.
func union(a, b geom.Box) geom.Box {
	for k := range 3 {
		a.Min[k] = min(a.Min[k], b.Min[k])
		a.Max[k] = max(a.Max[k], b.Max[k])
	}
	return a
}

// halfAreaMM2 returns half the surface of a box, 0 for an empty one.
func halfAreaMM2(b geom.Box) float64 {
	if b.IsEmpty() {
		return 0
	}
	s := b.Size()
	return s[0]*s[1] + s[1]*s[2] + s[2]*s[0]
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
