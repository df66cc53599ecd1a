package simplify

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// proof checks two surfaces against each other.
type proof struct {
	fine, coarse *bvh.Tree
	limitMM      float64

	failedFine   []int // triangles of fine not proven to be within limitMM of coarse
	failedCoarse []int
	seenMM       float64
}

// run checks both ways.
func (p *proof) run(ctx context.Context) (err error) {
	if p.failedCoarse, err = p.check(ctx, p.coarse.Mesh(), p.fine); err != nil {
		return err
	}
	p.failedFine, err = p.check(ctx, p.fine.Mesh(), p.coarse)
	return err
}

// batch is the number of triangles checked in one go by a worker.
const batch = 256

// check returns the triangles of m that are not proven to be within limitMM of t.
func (p *proof) check(ctx context.Context, m *mesh.Mesh, t *bvh.Tree) (failed []int, err error) {
	n := (len(m.Tris) + batch - 1) / batch
	failedIn, seenMM := make([][]int, n), make([]float64, n)
	err = geom.Each(ctx, 0, n, nil, func(i int) error {
		w := witness{tree: t, limitMM: p.limitMM}
		for tri := i * batch; tri < min((i+1)*batch, len(m.Tris)); tri++ {
			a, b, c := m.Corners(tri)
			if !w.vouches(a, b, c) {
				failedIn[i] = append(failedIn[i], tri)
			}
		}
		seenMM[i] = w.seenMM
		return nil
	})
	for i := range failedIn {
		failed = append(failed, failedIn[i]...)
		p.seenMM = max(p.seenMM, seenMM[i])
	}
	return failed, err
}

const (
	// mostCorners is room for the corners of a piece. Three cuts of a polygon of
	// wholePiece corners cannot fill it, whatever rounding does to the signs.
	mostCorners = 24
	// wholePiece is the most corners a piece may wait with; larger ones are put
	// back as triangles.
	wholePiece = 7
	// leastPiece is the size, as a share of the limit, below which a piece that
	// cannot be vouched for fails: its distance is the limit, near enough.
	leastPiece = 1e-3
	// mostPieces of one triangle, for each triangle of the other mesh and plainly.
	mostPieces = 8
	morePieces = 2000
	// overhang is how far beyond the sides of a triangle a piece is cut, as a
	// share of the limit: enough for the wedge over a slight ridge, so little that
	// what it adds to a distance just under the limit does not matter.
	overhang = 1.0 / 32
	// hair is how near to a cut, as a share of the limit, a corner counts as on it,
	// so that rounding does not shave a piece again and again.
	hair = 1.0 / 1024
)

// piece is a convex polygon in the plane of a triangle.
type piece struct {
	n int
	p [mostCorners]geom.Vec
}

// witness vouches that triangles lie near a mesh.
type witness struct {
	tree    *bvh.Tree
	limitMM float64
	seenMM  float64 // largest distance met
	todo    []piece
}

// vouches reports whether every point of the triangle is proven to lie within
// limitMM of the mesh.
func (w *witness) vouches(a, b, c geom.Vec) bool {
	w.todo = append(w.todo[:0], piece{n: 3, p: [mostCorners]geom.Vec{a, b, c}})
	for count := 0; len(w.todo) > 0; count++ {
		part := w.todo[len(w.todo)-1]
		w.todo = w.todo[:len(w.todo)-1]
		mid, sizeMM := part.middle()
		near, ok := w.tree.Nearest(mid, w.limitMM)
		if !ok || count > mostPieces*w.tree.Len()+morePieces {
			return false
		}
		w.seenMM = max(w.seenMM, near.DistMM)
		if near.DistMM+sizeMM <= w.limitMM {
			continue
		}
		x, y, z := w.tree.Mesh().Corners(near.Tri)
		if tri := (bvh.Triangle{x, y, z}); !part.within(&tri, w.limitMM) {
			if sizeMM < leastPiece*w.limitMM {
				return false
			}
			w.cut(part, &tri)
		}
	}
	return true
}

// cut puts the pieces of part back: cut along the sides of tri, moved out by the
// overhang, or in the middle when none of these cuts it.
func (w *witness) cut(part piece, tri *bvh.Triangle) {
	rest, parted := part, false
	normal := tri[1].Sub(tri[0]).Cross(tri[2].Sub(tri[0]))
	for k := 0; k < 3 && rest.n > 0 && normal.LenSqr() > 0; k++ {
		out := tri[(k+1)%3].Sub(tri[k]).Cross(normal)
		out = out.Mul(1 / out.Len())
		in, beyond := rest.split(tri[k].Add(out.Mul(overhang*w.limitMM)), out, hair*w.limitMM)
		if in.n == 0 && !parted {
			break // all of it lies beside the triangle
		}
		parted = parted || beyond.n > 0
		w.put(beyond)
		rest = in
	}
	if parted {
		w.put(rest)
		return
	}
	mid, _ := part.middle()
	along := part.p[1].Sub(part.p[0])
	for i := range part.n {
		for j := range i {
			if d := part.p[i].Sub(part.p[j]); d.LenSqr() > along.LenSqr() {
				along = d
			}
		}
	}
	in, beyond := part.split(mid, along.Mul(1/along.Len()), 0)
	w.put(in)
	w.put(beyond)
}

// put adds a piece to what is to do, as triangles if it has many corners.
func (w *witness) put(part piece) {
	if part.n <= wholePiece {
		if part.n > 0 {
			w.todo = append(w.todo, part)
		}
		return
	}
	for i := 1; i+1 < part.n; i++ {
		w.todo = append(w.todo, piece{n: 3, p: [mostCorners]geom.Vec{part.p[0], part.p[i], part.p[i+1]}})
	}
}

// middle returns the mean corner and how far the furthest corner is from it.
func (p *piece) middle() (mid geom.Vec, sizeMM float64) {
	for _, c := range p.p[:p.n] {
		mid = mid.Add(c)
	}
	mid = mid.Mul(1 / float64(p.n))
	for _, c := range p.p[:p.n] {
		sizeMM = max(sizeMM, c.Sub(mid).LenSqr())
	}
	return mid, math.Sqrt(sizeMM)
}

// within reports whether all corners, and so all points, are within limitMM of
// the triangle.
func (p *piece) within(tri *bvh.Triangle, limitMM float64) bool {
	for _, c := range p.p[:p.n] {
		if bvh.OnTriangle(c, tri).Sub(c).LenSqr() > limitMM*limitMM {
			return false
		}
	}
	return true
}

// split cuts a piece at a plane into what lies behind it and what lies beyond;
// one is empty when the plane misses. Corners within hairMM of it count as on it;
// the normal has unit length.
func (p *piece) split(at, normal geom.Vec, hairMM float64) (in, beyond piece) {
	offMM := func(c geom.Vec) float64 {
		if x := c.Sub(at).Dot(normal); math.Abs(x) > hairMM {
			return x
		}
		return 0
	}
	behind, ahead := false, false
	for i, c := range p.p[:p.n] {
		d := p.p[(i+1)%p.n]
		cMM, dMM := offMM(c), offMM(d)
		behind, ahead = behind || cMM < 0, ahead || cMM > 0
		if cMM <= 0 {
			in.p[in.n] = c
			in.n++
		}
		if cMM >= 0 {
			beyond.p[beyond.n] = c
			beyond.n++
		}
		if cMM < 0 && dMM > 0 || cMM > 0 && dMM < 0 {
			e := c.Add(d.Sub(c).Mul(cMM / (cMM - dMM)))
			in.p[in.n], beyond.p[beyond.n] = e, e
			in.n, beyond.n = in.n+1, beyond.n+1
		}
	}
	switch {
	case !ahead:
		return *p, piece{}
	case !behind:
		return piece{}, *p
	}
	return in, beyond
}
