package radiate

import (
	"math"
	"sort"

	"aftbay/geom"
	"aftbay/thermal/patch"
)

// emitter deals starting points and directions over one patch.
type emitter struct {
	set   *patch.Set
	p     *patch.Patch
	sumM2 []float64 // sumM2[k]: area of the first k+1 triangles
	pts   stream
	offMM float64 // how far the start is lifted off the surface

	normals []geom.Vec // normals[k]: of p.Tris[k], on the patch's side
}

// liftShare is the lift of a ray's start beside the size of the scene: far
// above rounding, far below any gap that matters (5 µm in a 5 m bay).
const liftShare = 1e-6

func newEmitter(s *patch.Set, p *patch.Patch, pts stream, sizeMM float64) *emitter {
	e := &emitter{set: s, p: p, pts: pts, offMM: sizeMM * liftShare, sumM2: make([]float64, len(p.Tris)), normals: make([]geom.Vec, len(p.Tris))}
	var sumM2 float64
	for k, t := range p.Tris {
		sumM2 += s.TriM2[t]
		e.sumM2[k] = sumM2
		e.normals[k] = e.normalOf(t)
	}
	return e
}

// next returns the next ray and the triangle of the patch that it starts from.
func (e *emitter) next() (origin, dir geom.Vec, at int) {
	u := e.pts.next()
	place := u[0] * e.sumM2[len(e.sumM2)-1]
	k := min(sort.SearchFloat64s(e.sumM2, place), len(e.sumM2)-1)
	before := 0.0
	if k > 0 {
		before = e.sumM2[k-1]
	}
	// The rest of the first number is spread evenly within the triangle.
	rest := (place - before) / max(e.sumM2[k]-before, tiny)
	tri := e.p.Tris[k]
	a, b, c := e.set.Mesh.Corners(int(tri))
	normal := e.normals[k]
	wb, wc := onTriangle(min(max(rest, 0), 1), u[1])
	for i := range origin {
		origin[i] = a[i] + wb*(b[i]-a[i]) + wc*(c[i]-a[i]) + e.offMM*normal[i]
	}
	return origin, cosineDir(normal, u[2], u[3]), k
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
