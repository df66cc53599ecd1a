package compare

import (
	"container/heap"
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// How exactly deviations are wanted, and how long that may take.
const (
	careMM    = 1e-3    // finer than any envelope is drawn
	careShare = 1e-3    // of the deviation itself
	mostSteps = 200_000 // a second or so; ErrorMM then says what is left open
)

// Deviation is the largest distance from one surface to another. The truth lies
// in [MM, MM + ErrorMM].
type Deviation struct {
	MM      float64  `json:"mm"`
	ErrorMM float64  `json:"error_mm"`
	At      geom.Vec `json:"at_mm"` // on the surface that is measured from, part frame
}

// piece is a part of a triangle of the mesh that is measured from.
type piece struct {
	corners [3]geom.Vec
	highMM  float64 // no point of it lies further off
}

// pieces is a heap, the piece that may lie furthest off on top.
type pieces []piece

func (p pieces) Len() int           { return len(p) }
func (p pieces) Less(i, j int) bool { return p[i].highMM > p[j].highMM }
func (p pieces) Swap(i, j int)      { p[i], p[j] = p[j], p[i] }
func (p *pieces) Push(x any)        { *p = append(*p, x.(piece)) }
func (p *pieces) Pop() any {
	last := (*p)[len(*p)-1]
	*p = (*p)[:len(*p)-1]
	return last
}

// From returns how far the surface of m lies off the surface in to at most. It
// goes on until that is known to a thousandth of a millimetre or of itself, or
// gives up and says how much is open. The context is checked now and then.
func From(ctx context.Context, m *mesh.Mesh, to *bvh.Tree) (Deviation, error) {
	d := Deviation{}
	if len(m.Tris) == 0 || to.Len() == 0 {
		return d, nil
	}
	// what corners reach is a low end at once
	known := make([]float64, len(m.Verts))
	for i := range known {
		known[i] = -1
	}
	queue := make(pieces, 0, len(m.Tris))
	for t := range m.Tris {
		for _, v := range m.Tris[t] {
			if known[v] < 0 {
				known[v] = d.reach(m.Verts[v], to)
			}
		}
		a, b, c := m.Corners(t)
		queue = append(queue, bounded([3]geom.Vec{a, b, c}, to))
		if t%1024 == 0 && ctx.Err() != nil {
			return Deviation{}, ctx.Err()
		}
	}
	heap.Init(&queue)
	for step := 0; len(queue) > 0; step++ {
		top := queue[0]
		d.ErrorMM = math.Max(0, top.highMM-d.MM)
		if d.ErrorMM <= math.Max(careMM, careShare*d.MM) || step >= mostSteps {
			return d, nil
		}
		if step%1024 == 0 && ctx.Err() != nil {
			return Deviation{}, ctx.Err()
		}
		heap.Pop(&queue)
		for _, part := range quarters(top.corners) {
			for _, p := range part {
				d.reach(p, to)
			}
			if q := bounded(part, to); q.highMM > d.MM {
				heap.Push(&queue, q)
			}
		}
	}
	d.ErrorMM = 0
	return d, nil
}

// reach raises the low end by one point and returns its distance.
func (d *Deviation) reach(p geom.Vec, to *bvh.Tree) float64 {
	near, _ := to.Nearest(p, math.Inf(1))
	if near.DistMM > d.MM {
		d.MM, d.At = near.DistMM, p
	}
	return near.DistMM
}

// bounded returns a piece with its high end: over the triangle of the other mesh
// that is nearest to its middle, where the corners are the worst.
func bounded(corners [3]geom.Vec, to *bvh.Tree) piece {
	p := piece{corners: corners}
	middle := corners[0].Add(corners[1]).Add(corners[2]).Mul(1.0 / 3)
	near, ok := to.Nearest(middle, math.Inf(1))
	if !ok {
		p.highMM = math.Inf(1)
		return p
	}
	var tri bvh.Triangle
	tri[0], tri[1], tri[2] = to.Mesh().Corners(near.Tri)
	widest := 0.0
	for _, c := range corners {
		p.highMM = math.Max(p.highMM, bvh.OnTriangle(c, &tri).Sub(c).Len())
		widest = math.Max(widest, c.Sub(middle).Len())
	}
	p.highMM = math.Min(p.highMM, near.DistMM+widest) // the distance changes no faster than the place
	return p
}

// quarters cuts a triangle at the middles of its sides.
func quarters(t [3]geom.Vec) [4][3]geom.Vec {
	ab, bc, ca := t[0].Add(t[1]).Mul(0.5), t[1].Add(t[2]).Mul(0.5), t[2].Add(t[0]).Mul(0.5)
	return [4][3]geom.Vec{{t[0], ab, ca}, {ab, t[1], bc}, {ca, bc, t[2]}, {ab, bc, ca}}
}

// moved returns how far the corners of a mesh go at most from one pose to
// another, exactly: no point between corners goes further.
func moved(was, is *mesh.Mesh, from, to geom.Pose) (mostMM float64) {
	for i, v := range is.Verts {
		mostMM = math.Max(mostMM, to.Point(v).Sub(from.Point(was.Verts[i])).Len())
	}
	return mostMM
}
