package radiate

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// emitter deals starting points and directions over one patch.
type emitter struct {
	set    *patch.Set
	p      *patch.Patch
	circle *circle
	pts    stream
	offMM  float64 // how far the start is lifted off the surface

	faces []face
	sumM2 []float64 // sumM2[k]: area of the first k+1 triangles
	// first[i]: the triangle in which the share i/len(first) of the area ends.
	first []int32
}

// face is a triangle of the patch, ready for rays to start from.
type face struct {
	corner geom.Vec    // the first, lifted
	sides  [2]geom.Vec // from it to the others
	about  around      // the normal, on the patch's side
}

// liftShare is the lift of a ray's start beside the size of the scene: far
// above rounding, far below any gap that matters (5 µm in a 5 m bay).
const liftShare = 1e-6

// firstPerFace is how many entries of first there are for each triangle, so that
// the next triangle is seldom asked for.
const firstPerFace = 4

// aim makes the emitter that of a patch, its points still to be given.
func (e *emitter) aim(s *patch.Set, p *patch.Patch, round *circle, offMM float64) {
	n := len(p.Tris)
	e.set, e.p, e.circle, e.offMM = s, p, round, offMM
	e.sumM2, e.faces = slices.Grow(e.sumM2[:0], n)[:n], slices.Grow(e.faces[:0], n)[:n]
	e.first = slices.Grow(e.first[:0], firstPerFace*n)[:firstPerFace*n]
	var sumM2 float64
	for k, t := range p.Tris {
		sumM2 += s.TriM2[t]
		e.sumM2[k] = sumM2
		e.faces[k].set(s, t, p.Inner, offMM)
	}
	k := 0
	stepM2 := sumM2 / float64(len(e.first))
	for i := range e.first {
		for k < n-1 && e.sumM2[k] < stepM2*float64(i) {
			k++
		}
		e.first[i] = int32(k)
	}
}

// set makes the face that of a triangle, seen from its inner side where asked.
func (f *face) set(s *patch.Set, tri int32, inner bool, offMM float64) {
	t := &s.Mesh.Tris[tri]
	a, b, c := &s.Mesh.Verts[t[0]], &s.Mesh.Verts[t[1]], &s.Mesh.Verts[t[2]]
	p, q := &f.sides[0], &f.sides[1]
	for k := range a {
		p[k], q[k] = b[k]-a[k], c[k]-a[k]
	}
	x, y, z := p[1]*q[2]-p[2]*q[1], p[2]*q[0]-p[0]*q[2], p[0]*q[1]-p[1]*q[0]
	length := math.Sqrt(x*x + y*y + z*z)
	if length < tiny {
		length = tiny
	}
	if inner {
		length = -length
	}
	per := 1 / length
	f.about.set(x*per, y*per, z*per)
	for k := range a {
		f.corner[k] = a[k] + f.about.normal[k]*offMM
	}
}

// ray makes the ray of a point; its limits stay as they are. Each number is
// written where it belongs by itself: vectors handed on would have to wait for it.
func (e *emitter) ray(at *point, r *bvh.Ray) {
	k, share := e.find(unit(at[0]))
	f := &e.faces[k]
	wb, wc := onTriangle(share, unit(at[1]))
	r.Origin[0] = f.corner[0] + wb*f.sides[0][0] + wc*f.sides[1][0]
	r.Origin[1] = f.corner[1] + wb*f.sides[0][1] + wc*f.sides[1][1]
	r.Origin[2] = f.corner[2] + wb*f.sides[0][2] + wc*f.sides[1][2]
	f.about.cosine(e.circle, unit(at[2]), unit(at[3]), &r.Dir)
}

// find returns the triangle in which a share of the patch's area ends, and the
// share of the triangle that is before that end: evenly from 0 to 1. Bare numbers:
// shares.
func (e *emitter) find(share float64) (k int, ownShare float64) {
	sums := e.sumM2
	placeM2 := share * sums[len(sums)-1]
	k = int(e.first[min(int(share*float64(len(e.first))), len(e.first)-1)])
	for k < len(sums)-1 && sums[k] < placeM2 {
		k++
	}
	beforeM2 := 0.0
	if k > 0 {
		beforeM2 = sums[k-1]
	}
	ownM2 := sums[k] - beforeM2
	if ownM2 < tiny {
		ownM2 = tiny
	}
	switch ownShare = (placeM2 - beforeM2) / ownM2; {
	case ownShare < 0:
		return k, 0
	case ownShare > 1:
		return k, 1
	}
	return k, ownShare
}

// tiny keeps divisions by nothing finite.
const tiny = 1e-300

// onTriangle maps the unit square evenly to a triangle and returns the weights
// of its second and third corner.
func onTriangle(u, v float64) (secondWeight, thirdWeight float64) {
	root := math.Sqrt(u)
	return root * (1 - v), root * v
}
