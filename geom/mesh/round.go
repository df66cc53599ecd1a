package mesh

import (
	"math"

	"aftbay/geom"
)

// Round is a face that stands for a piece of a cylinder, in the mesh's frame. The
// axis runs from From to To, as far as the face does.
type Round struct {
	From, To geom.Vec
	RadiusMM float64
	OffMM    float64 // the farthest that a corner lies off the cylinder
	Facets   []int32
}

// leastStrips is how many flat strips make a face round: two are a bend. leastRad
// is how far they must go round, 20°: less of a cone or torus looks like it.
const (
	leastStrips = 3
	leastRad    = 20 * math.Pi / 180
)

// Round returns the cylinder that the facet's face stands for; ok is false where
// it is flat or bends otherwise. The corners of a faceted cylinder lie on it, so
// that its axis and radius are found to rounding.
func (f *Faces) Round(tri int) (r Round, ok bool) {
	n, flat, ok := f.Flat(tri)
	if !ok {
		return r, false
	}
	tried := map[int32]bool{}
	for _, t := range flat {
		for _, next := range f.beside[t] {
			if next < 0 || tried[next] || f.bend(n, next) <= flatRad || f.bend(n, next) > smoothRad {
				continue
			}
			m, strip, _ := f.Flat(int(next))
			for _, s := range strip {
				tried[s] = true
			}
			axis := n.Cross(m)
			if !(axis.Len() > 0) {
				continue
			}
			if got, fits := f.roundAbout(axis.Normalize(), flat, strip); fits && len(got.Facets) > len(r.Facets) {
				r = got
			}
		}
	}
	return r, len(r.Facets) > 0
}

// roundAbout tries the cylinder of a direction through two neighbouring strips.
func (f *Faces) roundAbout(axis geom.Vec, first, second []int32) (Round, bool) {
	c, ok := f.circleOf(axis, append(append([]int32(nil), first...), second...))
	if !ok {
		return Round{}, false
	}
	on := func(t int32) bool { return f.liesOn(c, t) }
	facets := f.grow(first[0], on)
	for range 2 { // with more of the face the axis is surer, and then more is found
		axis = f.square(axis, facets)
		if c, ok = f.circleOf(axis, facets); !ok {
			return Round{}, false
		}
		facets = f.grow(first[0], on)
	}
	if !on(first[0]) || !f.goesRound(facets) || !f.endsSquare(c, facets) {
		return Round{}, false
	}
	r := Round{RadiusMM: c.radiusMM, Facets: facets}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, t := range facets {
		for _, v := range f.mesh.Tris[t] {
			along := f.mesh.Verts[v].Sub(c.middle).Dot(c.axis)
			lo, hi = min(lo, along), max(hi, along)
			r.OffMM = max(r.OffMM, c.offMM(f.mesh.Verts[v]))
		}
	}
	r.From, r.To = c.middle.Add(c.axis.Mul(lo)), c.middle.Add(c.axis.Mul(hi))
	return r, true
}

// cylinder is one without ends.
type cylinder struct {
	middle, axis geom.Vec
	radiusMM     float64
}

// offMM returns how far a point lies off the cylinder.
func (c *cylinder) offMM(p geom.Vec) float64 {
	d := p.Sub(c.middle)
	return math.Abs(d.Sub(c.axis.Mul(d.Dot(c.axis))).Len() - c.radiusMM)
}

// liesOn reports whether a facet's corners lie on a cylinder and it faces square
// to the axis.
func (f *Faces) liesOn(c cylinder, t int32) bool {
	if n := f.normals[t]; n == (geom.Vec{}) || math.Abs(n.Dot(c.axis)) > leanShare {
		return false
	}
	for _, v := range f.mesh.Tris[t] {
		if c.offMM(f.mesh.Verts[v]) > roundShare*c.radiusMM+roundMM {
			return false
		}
	}
	return true
}

// leanShare is how far a normal may lean along the axis: 0.6°.
const leanShare = 0.01

// endsSquare reports whether what goes on smoothly around the axis, beyond the
// facets found, is still square to it: a flat or another cylinder. On a cone or a
// torus a few strips pass for a cylinder, but the next ones lean.
func (f *Faces) endsSquare(c cylinder, facets []int32) bool {
	inside := make(map[int32]bool, len(facets))
	for _, t := range facets {
		inside[t] = true
	}
	for _, t := range facets {
		for _, next := range f.beside[t] {
			if next < 0 || inside[next] || f.bend(f.normals[t], next) > smoothRad {
				continue
			}
			if along := f.shared(t, next); math.Abs(along.Dot(c.axis)) > 0.5 && math.Abs(f.normals[next].Dot(c.axis)) > leanShare {
				return false
			}
		}
	}
	return true
}

// shared returns the unit direction of the edge that two facets share.
func (f *Faces) shared(t, next int32) geom.Vec {
	var ends []geom.Vec
	for _, v := range f.mesh.Tris[t] {
		for _, o := range f.mesh.Tris[next] {
			if v == o {
				ends = append(ends, f.mesh.Verts[v])
			}
		}
	}
	if len(ends) < 2 || ends[0] == ends[1] {
		return geom.Vec{}
	}
	return ends[1].Sub(ends[0]).Normalize()
}

// square returns the direction nearest to axis that is square to the facets'
// normals by least squares of their areas: one step, from a start that is near.
func (f *Faces) square(axis geom.Vec, facets []int32) geom.Vec {
	u := axis.Cross(geom.Vec{1, 0, 0})
	if math.Abs(axis[0]) > 0.8 {
		u = axis.Cross(geom.Vec{0, 1, 0})
	}
	u = u.Normalize()
	v := axis.Cross(u)
	var uu, uv, vv, ua, va float64
	for _, t := range facets {
		a, b, c := f.mesh.Corners(int(t))
		n := b.Sub(a).Cross(c.Sub(a))
		p, q, r := n.Dot(u), n.Dot(v), n.Dot(axis)
		uu, uv, vv, ua, va = uu+p*p, uv+p*q, vv+q*q, ua+p*r, va+q*r
	}
	det := uu*vv - uv*uv
	if !(det > 1e-9*uu*vv) {
		return axis
	}
	s, t := (uv*va-vv*ua)/det, (uv*ua-uu*va)/det
	return axis.Add(u.Mul(s)).Add(v.Mul(t)).Normalize()
}

// circleOf returns the cylinder of a direction nearest to the corners of facets:
// the circle through them, seen along it, by the algebraic least squares that are
// exact where they lie on one.
func (f *Faces) circleOf(axis geom.Vec, facets []int32) (c cylinder, ok bool) {
	var middle geom.Vec
	points := map[int32]bool{}
	var list []int32 // in the order met, so that sums are the same each time
	for _, t := range facets {
		for _, v := range f.mesh.Tris[t] {
			if !points[v] {
				points[v] = true
				list = append(list, v)
				middle = middle.Add(f.mesh.Verts[v])
			}
		}
	}
	middle = middle.Mul(1 / float64(len(list)))
	u := axis.Cross(geom.Vec{1, 0, 0})
	if math.Abs(axis[0]) > 0.8 {
		u = axis.Cross(geom.Vec{0, 1, 0})
	}
	u = u.Normalize()
	w := axis.Cross(u)
	// x·a + y·b = (x² + y²)/2 − k, in the means' frame: the mean of x² + y² takes k out.
	var xx, xy, yy, xz, yz, zMean, xMean, yMean float64
	at := func(v int32) (xMM, yMM float64) {
		d := f.mesh.Verts[v].Sub(middle)
		return d.Dot(u), d.Dot(w)
	}
	for _, v := range list {
		x, y := at(v)
		zMean += (x*x + y*y) / 2 / float64(len(list))
		xMean, yMean = xMean+x/float64(len(list)), yMean+y/float64(len(list))
	}
	for _, v := range list {
		x, y := at(v)
		z := (x*x+y*y)/2 - zMean
		x, y = x-xMean, y-yMean
		xx, xy, yy, xz, yz = xx+x*x, xy+x*y, yy+y*y, xz+x*z, yz+y*z
	}
	det := xx*yy - xy*xy
	if !(det > 1e-12*(xx+yy)*(xx+yy)) {
		return c, false
	}
	a, b := (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
	c = cylinder{middle: middle.Add(u.Mul(a)).Add(w.Mul(b)), axis: axis}
	for _, v := range list {
		x, y := at(v)
		c.radiusMM += math.Hypot(x-a, y-b) / float64(len(list))
	}
	return c, c.radiusMM > 0 && !math.IsInf(c.radiusMM, 1)
}

// goesRound reports whether facets face enough directions, far enough apart.
func (f *Faces) goesRound(facets []int32) bool {
	var seen []geom.Vec
	var widest float64
	for _, t := range facets {
		widest = max(widest, f.bend(f.normals[facets[0]], t))
		known := false
		for _, n := range seen[:min(len(seen), leastStrips)] {
			known = known || f.bend(n, t) <= flatRad
		}
		if !known {
			seen = append(seen, f.normals[t])
		}
	}
	return len(seen) >= leastStrips && 2*widest >= leastRad
}
