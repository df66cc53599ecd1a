package bvh

import (
	"aftbay/geom"
)

// Hit is where a ray first meets the mesh.
type Hit struct {
	Tri    int     // triangle index in the mesh
	DistMM float64 // from the origin of the ray, along the unit direction
	Back   bool    // the ray came from the triangle's inner side
}

// Ray is a half-line with a stretch of interest, part frame. Dir need not be of
// unit length, but not zero; distances are along the unit direction.
type Ray struct {
	Origin, Dir   geom.Vec
	NearMM, FarMM float64 // hits at NearMM < distance <= FarMM count
}

// FirstHit returns the nearest triangle that the ray from origin along dir meets
// within farMM, and whether there is one. Hits at distance 0 do not count. Both
// sides of a triangle count. A ray through a shared edge or corner meets at least
// one of the triangles there, so a closed mesh cannot leak. A triangle seen
// exactly edge-on is not met. It allocates nothing.
func (t *Tree) FirstHit(origin, dir geom.Vec, farMM float64) (Hit, bool) {
	return t.Cast(Ray{Origin: origin, Dir: dir, FarMM: farMM})
}

// AnyHit reports whether the ray meets any triangle within farMM. It is
// cheaper than FirstHit.
func (t *Tree) AnyHit(origin, dir geom.Vec, farMM float64) bool {
	return t.Blocked(Ray{Origin: origin, Dir: dir, FarMM: farMM})
}

// Cast is FirstHit for a ray with a near limit. Of triangles met at the very same
// distance the one with the lowest number counts.
func (t *Tree) Cast(r Ray) (Hit, bool) {
	var s shot
	if len(t.slots) == 0 || !s.aim(&t.origin, &t.nodes[0], &r) {
		return Hit{}, false
	}
	s.follow(t)
	return s.hit()
}

// Blocked is AnyHit for a ray with a near limit.
func (t *Tree) Blocked(r Ray) bool {
	var s shot
	if len(t.slots) == 0 || !s.aim(&t.origin, &t.nodes[0], &r) {
		return false
	}
	s.any = true
	s.follow(t)
	return s.tri >= 0
}

// Crossings calls see for every triangle the ray meets, in no useful order,
// until see returns false. See is told the triangle, the distance, whether the
// ray came from the inner side, and sure: false when the ray passes so close to
// an edge, or lies so flat, that rounding could have decided.
func (t *Tree) Crossings(r Ray, see func(c Crossing) bool) {
	var s shot
	if len(t.slots) == 0 || !s.aim(&t.origin, &t.nodes[0], &r) {
		return
	}
	s.doubtful(&t.nodes[0])
	if t.raysByOctets() {
		s.eachOctet(t, see)
		return
	}
	s.each(t, see)
}

// follow finds the nearest hit, or any hit when s.any is set.
func (s *shot) follow(t *Tree) {
	if t.raysByOctets() {
		s.firstOctet(t)
		return
	}
	s.first(t)
}

// Crossing is one triangle met, or nearly met, by a ray.
type Crossing struct {
	Hit
	Met  bool // false only with Sure false: passed by within rounding
	Sure bool
}

// shot is a ray made ready for walking one tree.
type shot struct {
	// For triangles: Woop's sheared frame, relative to the tree's origin.
	from                      geom.Vec
	kx, ky, kz                int
	xFromMM, yFromMM, zFromMM float64 // from along kx, ky, kz
	xRatio, yRatio, zRatio    float64 // shear along z, and z per distance
	nearMM                    float64
	farMM                     float64 // shrinks to the nearest hit
	tri                       int32   // of the nearest hit, in the mesh; -1 for none
	back, any                 bool

	// For boxes: float32, from a point moved up to the mesh.
	lo, hi, inv [3]float32 // start plus and minus its rounding; 1/direction
	startMM     float64
	// For the boxes of a wide tree, see widen.
	nearAdd, farAdd [3]float32
	reach           int32

	mostSlackMM2 float64 // for crossings, see doubtful
}

// hit returns what was found.
func (s *shot) hit() (Hit, bool) {
	if s.tri < 0 {
		return Hit{}, false
	}
	return Hit{Tri: int(s.tri), DistMM: s.farMM, Back: s.back}, true
}
