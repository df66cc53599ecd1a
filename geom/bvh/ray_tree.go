package bvh

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
)

// RayTree is a tree that answers rays alone. It goes without the oriented boxes
// and the bodies that distances need. Where the processor has AVX2 it is eight
// wide (see wide.go), elsewhere the plain tree: they meet the same triangles at
// the same distances to the last bit.
type RayTree struct {
	origin geom.Vec
	root   node  // the box of the mesh
	tree   *Tree // nil where wide is not
	wide   *wide
	tris   int
}

// BuildRays returns the ray tree of m; rays meet the same triangles as in
// Build's. Cost: about n log n; some 170 bytes per triangle.
func BuildRays(m *mesh.Mesh) *RayTree { return buildRays(m, HasAVX2()) }

// buildRays is BuildRays with a choice of trees.
func buildRays(m *mesh.Mesh, wanted bool) *RayTree {
	box := m.Box()
	r := &RayTree{origin: middle(box), tris: len(m.Tris)}
	if wanted && r.tris > 0 && box.Min.Sub(r.origin).Len() < wideMostMM {
		r.wide = buildWide(m, r.origin)
		r.root = r.wide.box()
		return r
	}
	r.tree = &Tree{}
	r.tree.build(m)
	if r.tris > 0 {
		r.root = r.tree.nodes[0]
	}
	return r
}

// Plain returns the ray tree of m that any processor can walk: for comparison.
func Plain(m *mesh.Mesh) *RayTree { return buildRays(m, false) }

// IsWide reports whether the tree is the eight-wide one.
func (r *RayTree) IsWide() bool { return r.wide != nil }

// Box returns the box of the mesh, as Tree.Box.
func (r *RayTree) Box() geom.Box {
	if r.tris == 0 {
		return geom.EmptyBox()
	}
	b := r.root.box()
	return geom.Box{Min: b.Min.Add(r.origin), Max: b.Max.Add(r.origin)}
}

// FirstHit is Tree.FirstHit.
func (r *RayTree) FirstHit(origin, dir geom.Vec, farMM float64) (Hit, bool) {
	return r.Cast(Ray{Origin: origin, Dir: dir, FarMM: farMM})
}

// Cast is Tree.Cast.
func (r *RayTree) Cast(ray Ray) (Hit, bool) {
	var s shot
	if !r.follow(&s, &ray) {
		return Hit{}, false
	}
	return s.hit()
}

// CastAll is Cast for many rays, best such that run alike one after another:
// hits[i] is that of rays[i], Hit.Tri -1 where it meets nothing.
func (r *RayTree) CastAll(rays []Ray, hits []Hit) {
	if r.wide != nil && r.wide.flies() {
		r.volley(rays, hits)
		return
	}
	var s shot
	for i := range rays {
		hits[i] = Hit{Tri: -1}
		if r.follow(&s, &rays[i]) && s.tri >= 0 {
			hits[i] = Hit{Tri: int(s.tri), DistMM: s.farMM, Back: s.back}
		}
	}
}

// Blocked is Tree.Blocked.
func (r *RayTree) Blocked(ray Ray) bool {
	s := shot{any: true}
	return r.follow(&s, &ray) && s.tri >= 0
}

// follow finds what s asks for; false where the ray misses the mesh's box.
func (r *RayTree) follow(s *shot, ray *Ray) bool {
	switch {
	case r.tris == 0 || !s.aim(&r.origin, &r.root, ray):
		return false
	case r.wide != nil:
		r.wide.cast(s)
	default:
		s.first(r.tree)
	}
	return true
}

// InBox is Tree.InBox.
func (r *RayTree) InBox(box geom.Box, see func(tri int) bool) {
	box.Min, box.Max = box.Min.Sub(r.origin), box.Max.Sub(r.origin)
	switch {
	case r.tris == 0:
	case r.wide != nil:
		r.wide.inBox(&box, see)
	default:
		r.tree.inBox(&box, see)
	}
}
