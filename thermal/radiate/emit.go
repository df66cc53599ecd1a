package radiate

import (
	"math"

	"aftbay/geom"
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

// newEmitter returns the emitter of a patch, its points still to be given.
func newEmitter(s *patch.Set, p *patch.Patch, round *circle, offMM float64) *emitter {
	n := len(p.Tris)
	e := &emitter{set: s, p: p, circle: round, offMM: offMM, sumM2: make([]float64, n), faces: make([]face, n), first: make([]int32, n)}
	var sumM2 float64
	for k, t := range p.Tris {
		sumM2 += s.TriM2[t]
		e.sumM2[k] = sumM2
		a, b, c := s.Mesh.Corners(int(t))
		about := newAround(e.normalOf(t))
		e.faces[k] = face{a.Add(about.normal.Mul(offMM)), [2]geom.Vec{b.Sub(a), c.Sub(a)}, about}
	}
	k := 0
	for i := range e.first {
		for k < n-1 && e.sumM2[k] < sumM2*(float64(i)/float64(n)) {
			k++
		}
		e.first[i] = int32(k)
	}
	return e
}

// next makes the next ray.
func (e *emitter) next(r *dealt) {
	u := e.pts.next()
	place, k := e.find(u[0])
	before := 0.0
	if k > 0 {
		before = e.sumM2[k-1]
	}
	// The rest of the first number is spread evenly within the triangle.
	rest := (place - before) / max(e.sumM2[k]-before, tiny)
	f := &e.faces[k]
	wb, wc := onTriangle(min(max(rest, 0), 1), u[1])
	for i := range r.origin {
		r.origin[i] = f.corner[i] + wb*f.sides[0][i] + wc*f.sides[1][i]
	}
	r.dir, r.at, r.sector = f.about.cosineDir(e.circle, u[2], u[3]), int32(k), sectorOf(u[2], u[3])
}

// find returns the place of a share of the patch's area, and the triangle that
// it lies in.
func (e *emitter) find(share float64) (placeM2 float64, k int) {
	n := len(e.sumM2)
	placeM2 = share * e.sumM2[n-1]
	k = int(e.first[min(int(share*float64(n)), n-1)])
	for k < n-1 && e.sumM2[k] < placeM2 {
		k++
	}
	return placeM2, k
}

// normalOf returns the unit normal of a triangle on the patch's side.
func (e *emitter) normalOf(tri int32) geom.Vec {
	a, b, c := e.set.Mesh.Corners(int(tri))
	normal := b.Sub(a).Cross(c.Sub(a))
	length := max(normal.Len(), tiny)
	if e.p.Inner {
		length = -length
	}
	return normal.Mul(1 / length)
}

// tiny keeps divisions by nothing finite.
const tiny = 1e-300

// onTriangle maps the unit square evenly to a triangle and returns the weights
// of its second and third corner.
func onTriangle(u, v float64) (secondWeight, thirdWeight float64) {
	root := math.Sqrt(u)
	return root * (1 - v), root * v
}
