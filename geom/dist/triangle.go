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

func (t *touch) offer(p, q geom.Vec) bool {
	if d := p.Sub(q).LenSqr(); d < t.distMM2 {
		t.p, t.q, t.distMM2 = p, q, d
		return true
	}
	return false
}

// triangles returns the nearest points of two triangles; distance exactly 0 with
// a common point when they cross. Triangles without area count as their edges.
func triangles(a, b *bvh.Triangle) touch {
	best := touch{distMM2: math.Inf(1)}
	for i := range 3 {
		for j := range 3 {
			p, q := segments(a[i], a[(i+1)%3], b[j], b[(j+1)%3])
			if best.offer(p, q) && edgesDecide(a, b, i, j, &best) {
				return best
			}
		}
	}
	for i := range 3 {
		if q, ok, _ := bvh.Foot(a[i], b); ok {
			best.offer(a[i], q)
		}
		if p, ok, _ := bvh.Foot(b[i], a); ok {
			best.offer(p, b[i])
		}
	}
	if best.distMM2 > 0 && !separates(a, b, &best) {
		if p, ok := crossing(a, b); ok {
			return touch{p: p, q: p}
		}
	}
	return best
}

// edgesDecide reports whether the third corners lie outside the slab that the
// best points of edges i of a and j of b span, by more than rounding: then nothing
// is nearer. Large triangles a hair apart are not decided here, as the direction
// of the hair is then uncertain.
func edgesDecide(a, b *bvh.Triangle, i, j int, best *touch) bool {
	v := best.q.Sub(best.p)
	toA, toB := a[(i+2)%3].Sub(best.p), b[(j+2)%3].Sub(best.q)
	var roundMM float64 // of each coordinate of v
	for k := range 3 {
		roundMM += 0x1p-50 * (math.Abs(best.p[k]) + math.Abs(best.q[k]))
	}
	roomAMM2 := roundMM * (math.Abs(toA[0]) + math.Abs(toA[1]) + math.Abs(toA[2]))
	roomBMM2 := roundMM * (math.Abs(toB[0]) + math.Abs(toB[1]) + math.Abs(toB[2]))
	return toA.Dot(v) <= -roomAMM2 && toB.Dot(v) >= roomBMM2 && best.distMM2 > 0
}

// separates reports whether the slab across the best pair of points, taken as
// half its width, keeps the triangles apart. For triangles that do not meet, the
// whole width does, by convexity; half leaves room for rounding.
func separates(a, b *bvh.Triangle, best *touch) bool {
	v := best.q.Sub(best.p)
	hi, lo := math.Inf(-1), math.Inf(1)
	for k := range 3 {
		hi = max(hi, a[k].Sub(best.p).Dot(v))
		lo = min(lo, b[k].Sub(best.p).Dot(v))
	}
	return lo-hi >= 0.5*best.distMM2
}
