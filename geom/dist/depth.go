package dist

import (
	"container/heap"

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
// so a ball around a node or triangle bounds it; on a triangle it is also at most
// the largest distance of its corners from any one triangle of the solid, since
// that distance is convex. Nodes and triangles are looked at in the order of
// their bounds, triangles are halved, until the best point is proved near enough.
func deepest(k, in *skin, w *watch) deep {
	d := &digger{k: k, in: in}
	d.node(0)
	for tries := 0; len(d.heap) > 0 && tries < depthTries && !w.over(); tries++ {
		top := d.heap[0]
		if top.highMM <= d.best.lowMM+max(depthToMM, depthToRatio*d.best.lowMM) {
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

// digger is the state of one search.
type digger struct {
	k, in *skin
	best  deep
	heap  diggings
}

// digging is a node or a piece of a triangle still to be looked at.
type digging struct {
	highMM float64 // nothing in it lies deeper
	node   int     // of the tree of k; -1 for a piece
	tri    int     // the triangle that piece is part of
	piece  bvh.Triangle
}

// node bounds one node of the surface and puts it aside if it can matter.
func (d *digger) node(i int) {
	n := d.k.tree.Node(i)
	if highMM := d.in.depthMM(d.k.place(n.Mid)) + n.RadiusMM; highMM > d.best.lowMM {
		heap.Push(&d.heap, digging{highMM: highMM, node: i})
	}
}

// open looks into a node or halves a piece.
func (d *digger) open(x digging) {
	if x.node < 0 {
		for _, half := range halves(&x.piece) {
			d.triangle(x.tri, half)
		}
		return
	}
	n := d.k.tree.Node(x.node)
	if n.Count == 0 {
		d.node(n.Left)
		d.node(n.Left + 1)
	}
	for slot := n.First; slot < n.First+n.Count; slot++ {
		tri := d.k.tree.Tri(slot)
		t := d.k.corners(tri)
		for _, p := range t {
			d.probe(tri, p)
		}
		d.triangle(tri, t)
	}
}

// probe returns the depth of a point of triangle tri, negative outside, and what
// it is nearest to; it notes the deepest point.
func (d *digger) probe(tri int, p geom.Vec) (depthMM float64, near bvh.Near) {
	depthMM, near = d.in.under(p)
	if depthMM > d.best.lowMM {
		d.best = deep{lowMM: depthMM, at: p, exit: d.in.back(near.Point), tri: tri, exitTri: near.Tri}
	}
	return depthMM, near
}

// triangle bounds a piece of triangle tri and puts it aside if it can matter.
func (d *digger) triangle(tri int, t bvh.Triangle) {
	mid := t[0].Add(t[1]).Add(t[2]).Mul(1.0 / 3)
	depthMM, near := d.probe(tri, mid)
	highMM := depthMM
	for _, p := range t {
		highMM = max(highMM, depthMM+p.Sub(mid).Len())
	}
	if highMM <= d.best.lowMM {
		return
	}
	x, y, z := d.in.tree.Mesh().Corners(near.Tri)
	wall := bvh.Triangle{x, y, z}
	var convexMM float64
	for _, p := range t {
		q := d.in.fromA.Point(p)
		convexMM = max(convexMM, bvh.OnTriangle(q, &wall).Sub(q).Len())
	}
	if highMM = min(highMM, convexMM); highMM > d.best.lowMM {
		heap.Push(&d.heap, digging{highMM: highMM, node: -1, tri: tri, piece: t})
	}
}

// halves cuts a triangle across its longest side.
func halves(t *bvh.Triangle) [2]bvh.Triangle {
	longest, at := 0.0, 0
	for k := range 3 {
		if l := t[(k+1)%3].Sub(t[k]).LenSqr(); l > longest {
			longest, at = l, k
		}
	}
	p, q, r := t[at], t[(at+1)%3], t[(at+2)%3]
	mid := p.Add(q).Mul(0.5)
	return [2]bvh.Triangle{{p, mid, r}, {mid, q, r}}
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
