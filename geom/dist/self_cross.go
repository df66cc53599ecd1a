package dist

import (
	"cmp"
	"context"
	"math/bits"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// MaxPlaces is the largest number of places SelfCrossings gives.
const MaxPlaces = 200

// Place is one pair of triangles of a mesh that cross.
type Place struct {
	TriA, TriB int      // TriA < TriB
	At         geom.Vec // a point they have in common, part frame
}

// SelfCrossings returns how many pairs of triangles of one mesh cross, and the
// first MaxPlaces of them by triangle. Where a solid's surface crosses itself its
// volume and mass figures count some of it twice.
//
// Two triangles cross where the inside of one meets the inside of the other: they
// pass through each other, or they lie on each other in one plane and face the
// same way. Touching is no crossing: neighbours on a shared corner or edge, an
// edge that ends on a face, faces back to back. Two surfaces that pass through
// each other only along edges of both, and a body wholly inside another, are not
// seen either. Facets without area and facets that stand twice, corner for
// corner, are left to mesh.Inspect. The signs are exact for the given numbers.
//
// Errors: ErrEmpty, ErrCoordinates, the error of ctx. Cost: n log n for a
// surface, some microseconds a triangle.
func SelfCrossings(ctx context.Context, t *bvh.Tree) (count int, first []Place, err error) {
	if err := ctx.Err(); err != nil {
		return 0, nil, err
	}
	if err := (Body{Tree: t, Pose: geom.Identity()}).validate(); err != nil {
		return 0, nil, err
	}
	s := &selfWalk{tree: t, watch: watch{ctx: ctx}}
	if !s.run() {
		return 0, nil, ctx.Err()
	}
	s.trim()
	return s.count, s.first, nil
}

// selfWalk is the walk of a tree against itself.
type selfWalk struct {
	tree  *bvh.Tree
	count int
	first []Place         // holds the first MaxPlaces, and some that are not
	pairs map[[2]int]bool // bodies that cross, by their places in Shells, the lesser one first; nil: not wanted
	watch watch
}

// run tries all pairs of triangles that may meet; false when it was ended early.
func (s *selfWalk) run() bool {
	var w bvh.SelfWalk
	for w.Start(s.tree); ; {
		p, ok := w.Next()
		if !ok {
			return true
		}
		if s.watch.over() {
			return false
		}
		for i := p.FirstA; i < p.FirstA+p.CountA; i++ {
			from := p.FirstB
			if p.FirstA == p.FirstB {
				from = i + 1
			}
			for j := from; j < p.FirstB+p.CountB; j++ {
				s.try(min(s.tree.Tri(i), s.tree.Tri(j)), max(s.tree.Tri(i), s.tree.Tri(j)))
			}
		}
	}
}

// try notes the pair if it crosses.
func (s *selfWalk) try(triA, triB int) {
	m := s.tree.Mesh()
	shared := sharedCorners(&m.Tris[triA], &m.Tris[triB])
	if shared.count == 3 {
		return
	}
	a, b := cornersOf(s.tree, triA), cornersOf(s.tree, triB)
	if shared.count == 0 && !boxesMeet(&a, &b) {
		return
	}
	// Over a common edge only triangles in one plane can meet.
	if shared.count == 2 && orient(b[0], b[1], b[2], a[shared.lone()]) != 0 {
		return
	}
	at, yes := insidesMeet(&a, &b, shared)
	if !yes {
		return
	}
	s.count++
	if s.pairs != nil {
		one, two := s.tree.ShellOf(triA), s.tree.ShellOf(triB)
		s.pairs[[2]int{min(one, two), max(one, two)}] = true
		return
	}
	s.first = append(s.first, Place{triA, triB, at})
	if len(s.first) >= 4*MaxPlaces {
		s.trim()
	}
}

// trim sorts the places and drops those behind the first MaxPlaces.
func (s *selfWalk) trim() {
	slices.SortFunc(s.first, func(x, y Place) int {
		return cmp.Or(cmp.Compare(x.TriA, y.TriA), cmp.Compare(x.TriB, y.TriB))
	})
	s.first = s.first[:min(len(s.first), MaxPlaces)]
}

// cornersOf returns the corners of a triangle as the mesh has them: no rounding.
func cornersOf(t *bvh.Tree, tri int) bvh.Triangle {
	x, y, z := t.Mesh().Corners(tri)
	return bvh.Triangle{x, y, z}
}

// commonCorners is which corners two triangles have in common: how many, and
// which of each, bit by bit.
type commonCorners struct {
	count    int
	ofA, ofB uint8
}

// lone returns a corner of the first triangle that is not in common, the last
// one.
func (c commonCorners) lone() int {
	return bits.Len8(7&^c.ofA) - 1
}

// sharedCorners returns the corners that two triangles have in common.
func sharedCorners(s, t *[3]int32) (c commonCorners) {
	for k, v := range s {
		for l, w := range t {
			if v == w {
				c.ofA |= 1 << k
				c.ofB |= 1 << l
			}
		}
	}
	c.count = bits.OnesCount8(c.ofA)
	return c
}

// boxesMeet reports whether the boxes of two triangles have a common point.
func boxesMeet(a, b *bvh.Triangle) bool {
	for k := range 3 {
		if min(a[0][k], a[1][k], a[2][k]) > max(b[0][k], b[1][k], b[2][k]) ||
			min(b[0][k], b[1][k], b[2][k]) > max(a[0][k], a[1][k], a[2][k]) {
			return false
		}
	}
	return true
}
