package dist

import (
	"container/heap"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

const (
	// depthToMM and depthToRatio end the search for the depth once it is known to
	// the larger of the two. Common practice, no source.
	depthToMM    = 1e-2
	depthToRatio = 1e-3
	// depthTries bounds the work for one depth; what is still unknown then is
	// stated as its error.
	depthTries = 5000
)

// deep is a depth known to lie in lowMM .. highMM.
type deep struct {
	lowMM, highMM float64
	at, exit      geom.Vec // the deepest point and the nearest of the other surface
	tri, exitTri  int      // the triangles they lie on
}

// deepest returns the largest distance from a point of the surface k that lies
// inside the solid in to that solid's surface; 0..0 when none does.
//
// Method: branch and bound. The depth changes by no more than the point moves,
// so a ball around a node or triangle bounds it; pieces of triangles are bounded
// as depth_bound.go says. Nodes and pieces are looked at in the order of their
// bounds, pieces are halved, until the best point is proved near enough.
func deepest(k, in *skin, w *watch) deep {
	d := &digger{k: k, in: in, known: make([]sounding, len(k.tree.Mesh().Verts))}
	d.node(0)
	for tries := 0; len(d.heap) > 0 && tries < depthTries && !w.over(); tries++ {
		top := d.heap[0]
		if top.highMM <= d.enoughMM() {
			break
		}
		heap.Pop(&d.heap)
		d.open(top)
	}
	d.best.highMM = d.best.lowMM
	if len(d.heap) > 0 {
		d.best.highMM = max(d.best.highMM, d.heap[0].highMM)
	}
	return d.best
}

// enoughMM is the bound from which on the best point is near enough.
func (d *digger) enoughMM() float64 {
	return d.best.lowMM + max(depthToMM, depthToRatio*d.best.lowMM)
}

// digger is the state of one search.
type digger struct {
	k, in *skin
	best  deep
	heap  diggings
	known []sounding // by corner of k's mesh
}

// sounding is what is known of the depth at a point.
type sounding struct {
	depthMM float64 // negative outside
	wall    int     // triangle of the solid that is nearest
	known   bool
}

// digging is a node or a piece of a triangle still to be looked at.
type digging struct {
	highMM  float64 // nothing in it lies deeper
	node    int     // of the tree of k; -1 for a piece
	tri     int     // the triangle that piece is part of
	piece   bvh.Triangle
	corners [3]sounding // of piece
}

// node bounds one node of the surface and puts it aside if it can matter.
func (d *digger) node(i int) {
	n := d.k.tree.Node(i)
	if depthMM, _, matters := d.probe(d.k.place(n.Mid), n.RadiusMM); matters {
		heap.Push(&d.heap, digging{highMM: depthMM + n.RadiusMM, node: i})
	}
}

// open looks into a node or halves a piece.
func (d *digger) open(x digging) {
	if x.node < 0 {
		d.halve(&x)
		return
	}
	n := d.k.tree.Node(x.node)
	if n.Count == 0 {
		d.node(n.Left)
		d.node(n.Left + 1)
	}
	for slot := n.First; slot < n.First+n.Count; slot++ {
		d.triangle(d.k.tree.Tri(slot))
	}
}

// probe returns the depth of a point, negative outside, and what it is nearest
// to; matters is false, and the depth unknown, where nothing within radiusMM of
// the point lies deeper than the best.
func (d *digger) probe(p geom.Vec, radiusMM float64) (depthMM float64, near bvh.Near, matters bool) {
	part, needMM := d.in.fromA.Point(p), d.best.lowMM-radiusMM
	box := d.in.tree.Box()
	if outMM := box.GapMM(geom.Box{Min: part, Max: part}); outMM > 0 && -outMM < needMM {
		return 0, near, false
	}
	if near, matters = d.in.tree.NearestBeyond(part, needMM); !matters {
		return 0, near, false
	}
	if near.DistMM > 0 && within(box, part) && winding(d.in.tree, part) != 0 {
		return near.DistMM, near, true
	}
	return -near.DistMM, near, -near.DistMM > needMM
}

// sound returns the depth at a point of triangle tri and keeps the deepest.
func (d *digger) sound(tri int, p geom.Vec) sounding {
	depthMM, near, _ := d.probe(p, math.Inf(1))
	return d.keep(tri, p, depthMM, near)
}

// keep notes a point of triangle tri if it is the deepest.
func (d *digger) keep(tri int, p geom.Vec, depthMM float64, near bvh.Near) sounding {
	if depthMM > d.best.lowMM {
		d.best = deep{lowMM: depthMM, at: p, exit: d.in.back(near.Point), tri: tri, exitTri: near.Tri}
	}
	return sounding{depthMM, near.Tri, true}
}

// triangle bounds one triangle and puts it aside if it can matter.
func (d *digger) triangle(tri int) {
	x := digging{node: -1, tri: tri, piece: d.k.corners(tri)}
	mid := x.piece[0].Add(x.piece[1]).Add(x.piece[2]).Mul(1.0 / 3)
	if _, _, matters := d.probe(mid, reachMM(mid, &x.piece)); !matters {
		return
	}
	for k, v := range d.k.tree.Mesh().Tris[tri] {
		if !d.known[v].known {
			d.known[v] = d.sound(tri, x.piece[k])
		}
		x.corners[k] = d.known[v]
	}
	d.aside(&x)
}

// aside puts a piece aside if it can matter.
func (d *digger) aside(x *digging) {
	if !d.meets(&x.piece) {
		return
	}
	var ridge geom.Vec
	if x.highMM, ridge = d.bound(x); x.highMM > d.enoughMM() {
		d.sound(x.tri, ridge) // likely as deep as the bound
	}
	if x.highMM > d.best.lowMM {
		heap.Push(&d.heap, *x)
	}
}

// meets reports whether a piece reaches into the box of the solid; nothing of it
// is inside where it does not.
func (d *digger) meets(piece *bvh.Triangle) bool {
	box := geom.EmptyBox()
	for _, p := range piece {
		box = box.Grow(d.in.fromA.Point(p))
	}
	return box.GapMM(d.in.tree.Box()) == 0
}

// halve cuts a piece across its longest side and puts both halves aside.
func (d *digger) halve(x *digging) {
	longestMM2, at := 0.0, 0
	for k := range 3 {
		if l := x.piece[(k+1)%3].Sub(x.piece[k]).LenSqr(); l > longestMM2 {
			longestMM2, at = l, k
		}
	}
	next := (at + 1) % 3
	mid := x.piece[at].Add(x.piece[next]).Mul(0.5)
	depthMM, near, matters := d.probe(mid, reachMM(mid, &x.piece))
	if !matters {
		return
	}
	sounded := d.keep(x.tri, mid, depthMM, near)
	for _, k := range [2]int{at, next} {
		half := *x
		half.piece[k], half.corners[k] = mid, sounded
		d.aside(&half)
	}
}

// reachMM returns how far the furthest corner of a piece lies from a point.
func reachMM(p geom.Vec, t *bvh.Triangle) float64 {
	return math.Sqrt(max(t[0].Sub(p).LenSqr(), t[1].Sub(p).LenSqr(), t[2].Sub(p).LenSqr()))
}

// diggings is a heap, largest bound first.
type diggings []digging

func (d diggings) Len() int           { return len(d) }
func (d diggings) Less(i, j int) bool { return d[i].highMM > d[j].highMM }
func (d diggings) Swap(i, j int)      { d[i], d[j] = d[j], d[i] }
func (d *diggings) Push(x any)        { *d = append(*d, x.(digging)) }

func (d *diggings) Pop() any {
	old := *d
	x := old[len(old)-1]
	*d = old[:len(old)-1]
	return x
}
