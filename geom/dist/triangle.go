package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// touch is the nearest pair of points of two triangles.
type touch struct {
	p, q    geom.Vec
	distMM2 float64
}

// nearest is a touch while it is being found.
type nearest struct {
	p, q    geom.XYZ
	distMM2 float64
}

func (n *nearest) offer(p, q geom.XYZ) bool {
	if d := p.Sub(q).LenSqr(); d < n.distMM2 {
		n.p, n.q, n.distMM2 = p, q, d
		return true
	}
	return false
}

// corners are those of a triangle.
type corners [3]geom.XYZ

func cornersApart(t *bvh.Triangle) corners {
	return corners{geom.Apart(&t[0]), geom.Apart(&t[1]), geom.Apart(&t[2])}
}

// triangles returns the nearest points of two triangles; distance exactly 0 with
// a common point when they cross. Triangles without area count as their edges.
func triangles(ta, tb *bvh.Triangle) touch {
	a, b := cornersApart(ta), cornersApart(tb)
	best := nearest{distMM2: math.Inf(1)}
	for i := range 3 {
		for j := range 3 {
			p, q := segments(a[i], a[(i+1)%3], b[j], b[(j+1)%3])
			if best.offer(p, q) && edgesDecide(&a, &b, i, j, &best) {
				return best.touch()
			}
		}
	}
	for i := range 3 {
		if q, ok, _ := bvh.Foot(a[i], b[0], b[1], b[2]); ok {
			best.offer(a[i], q)
		}
		if p, ok, _ := bvh.Foot(b[i], a[0], a[1], a[2]); ok {
			best.offer(p, b[i])
		}
	}
	if best.distMM2 > 0 && !separates(&a, &b, &best) {
		if p, ok := crossing(ta, tb); ok {
			return touch{p: p, q: p}
		}
	}
	return best.touch()
}

func (n *nearest) touch() touch { return touch{p: n.p.Vec(), q: n.q.Vec(), distMM2: n.distMM2} }

// edgesDecide reports whether the third corners lie outside the slab that the
// best points of edges i of a and j of b span, by more than rounding: then nothing
// is nearer. Large triangles a hair apart are not decided here, as the direction
// of the hair is then uncertain.
func edgesDecide(a, b *corners, i, j int, best *nearest) bool {
	p, q := best.p, best.q
	v := q.Sub(p)
	toA, toB := a[(i+2)%3].Sub(p), b[(j+2)%3].Sub(q)
	var roundMM float64 // of each coordinate of v
	roundMM += 0x1p-50 * (math.Abs(p.X) + math.Abs(q.X))
	roundMM += 0x1p-50 * (math.Abs(p.Y) + math.Abs(q.Y))
	roundMM += 0x1p-50 * (math.Abs(p.Z) + math.Abs(q.Z))
	roomAMM2 := roundMM * (math.Abs(toA.X) + math.Abs(toA.Y) + math.Abs(toA.Z))
	roomBMM2 := roundMM * (math.Abs(toB.X) + math.Abs(toB.Y) + math.Abs(toB.Z))
	return toA.Dot(v) <= -roomAMM2 && toB.Dot(v) >= roomBMM2 && best.distMM2 > 0
}

// separates reports whether the slab across the best pair of points, taken as
// half its width, keeps the triangles apart. For triangles that do not meet, the
// whole width does, by convexity; half leaves room for rounding.
func separates(a, b *corners, best *nearest) bool {
	v := best.q.Sub(best.p)
	hi, lo := math.Inf(-1), math.Inf(1)
	for k := range 3 {
		hi = max(hi, a[k].Sub(best.p).Dot(v))
		lo = min(lo, b[k].Sub(best.p).Dot(v))
	}
	return lo-hi >= 0.5*best.distMM2
}
