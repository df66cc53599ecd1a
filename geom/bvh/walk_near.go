package bvh

import (
	"math"

	"aftbay/geom"
)

// Near is the point of the mesh nearest to a given point.
type Near struct {
	Tri    int      // triangle index in the mesh
	Point  geom.Vec // part frame
	DistMM float64
}

// Nearest returns the point of the mesh nearest to p among those closer than
// withinMM (infinity for any), and whether there is one. It allocates nothing.
func (t *Tree) Nearest(p geom.Vec, withinMM float64) (Near, bool) {
	return t.nearest(p, withinMM, -1)
}

// NearestBeyond returns the point of the mesh nearest to p, or false if one lies
// no further than floorMM: as soon as that is known. It allocates nothing.
func (t *Tree) NearestBeyond(p geom.Vec, floorMM float64) (Near, bool) {
	return t.nearest(p, math.Inf(1), floorMM)
}

func (t *Tree) nearest(p geom.Vec, withinMM, floorMM float64) (Near, bool) {
	p = p.Sub(t.origin)
	floorMM2 := math.Copysign(floorMM*floorMM, floorMM)
	best, slot := withinMM*withinMM, int32(-1)
	var at geom.Vec
	var w pointWalk
	for w.start(t, p); ; {
		first, count := w.next(math.Sqrt(best))
		if count == 0 {
			break
		}
		for i := first; i < first+count; i++ {
			q := OnTriangle(p, &t.slots[i])
			if d := q.Sub(p).LenSqr(); d < best {
				best, slot, at = d, i, q
			}
			if best <= floorMM2 {
				return Near{}, false
			}
		}
	}
	if slot < 0 {
		return Near{}, false
	}
	return Near{Tri: int(t.order[slot]), Point: at.Add(t.origin), DistMM: math.Sqrt(best)}, true
}

// OnTriangle returns the point of the triangle nearest to p. It always returns
// a point of the triangle to within rounding; a triangle without area counts as
// its edges.
func OnTriangle(p geom.Vec, t *Triangle) geom.Vec {
	at := geom.Apart(&p)
	a, b, c := geom.Apart(&t[0]), geom.Apart(&t[1]), geom.Apart(&t[2])
	best, inside, sure := Foot(at, a, b, c)
	if inside && sure {
		return best.Vec()
	}
	for k := range 3 {
		q := onSegment(at, a, b)
		if k == 0 && !inside || q.Sub(at).LenSqr() < best.Sub(at).LenSqr() {
			best = q
		}
		a, b, c = b, c, a
	}
	return best.Vec()
}

// thin is the square of height over length from which on a triangle's foot
// points lose digits that matter (1e-4: some 1e-12 of its length).
const thin = 1e-8

// Foot returns the foot of the perpendicular from p on the triangle of three
// corners, and whether it lies inside. For thin triangles the foot is refined once
// and not sure: an edge may be as near.
func Foot(p, t0, t1, t2 geom.XYZ) (q geom.XYZ, inside, sure bool) {
	e0, e1, d := t1.Sub(t0), t2.Sub(t0), p.Sub(t0)
	n := e0.Cross(e1)
	n2 := n.LenSqr()
	if !(n2 > 0) {
		return q, false, false
	}
	v, w := d.Cross(e1).Dot(n)/n2, e0.Cross(d).Dot(n)/n2
	if sure = n2 > thin*e0.LenSqr()*e1.LenSqr(); !sure {
		d = p.Sub(t0.Add(e0.Mul(v)).Add(e1.Mul(w)))
		v, w = v+d.Cross(e1).Dot(n)/n2, w+e0.Cross(d).Dot(n)/n2
	}
	if !(v >= 0 && w >= 0 && v+w <= 1) {
		return q, false, sure
	}
	return t0.Add(e0.Mul(v)).Add(e1.Mul(w)), true, sure
}

// OnSegment returns the point of the segment a-b nearest to p; a when the two
// ends coincide.
func OnSegment(p, a, b geom.Vec) geom.Vec {
	return onSegment(geom.Apart(&p), geom.Apart(&a), geom.Apart(&b)).Vec()
}

func onSegment(p, a, b geom.XYZ) geom.XYZ {
	d := b.Sub(a)
	length2 := d.LenSqr()
	if !(length2 > 0) {
		return a
	}
	s := p.Sub(a).Dot(d) / length2
	switch {
	case !(s > 0):
		return a
	case s >= 1:
		return b
	}
	return a.Add(d.Mul(s))
}
