package render

import "aftbay/geom"

// clipPoint is a view point with its distance from the cut, positive on the
// side taken away.
type clipPoint struct {
	at    geom.Vec
	cutMM float64
}

// maxClipped bounds the corners of a clipped triangle: 3 + one a plane.
const maxClipped = 9

// clipped cuts a triangle by the near plane, the guard band and, if hasCut, the
// cut. It returns the corners left (fewer than 3: nothing), in out's memory.
func (v *view) clipped(tri [3]clipPoint, hasCut bool, out *[maxClipped]corner) int {
	var bufA, bufB [maxClipped]clipPoint
	poly := append(bufA[:0], tri[:]...)
	spare := bufB[:0]
	cut := func(inside func(p clipPoint) float64) {
		spare = clipBy(poly, spare[:0], inside)
		poly, spare = spare, poly
	}
	cut(func(p clipPoint) float64 { return p.at[2] - v.nearMM })
	if hasCut {
		cut(func(p clipPoint) float64 { return -p.cutMM })
	}
	// The guard band is a pyramid, or a box when parallel, around the picture.
	slope := guardPx / 2 / v.scalePx
	reach := func(p clipPoint) float64 { return slope * p.at[2] }
	if v.cam.Parallel {
		reach = func(clipPoint) float64 { return slope * v.cam.DistMM }
	}
	cut(func(p clipPoint) float64 { return reach(p) - p.at[0] })
	cut(func(p clipPoint) float64 { return reach(p) + p.at[0] })
	cut(func(p clipPoint) float64 { return reach(p) - p.at[1] })
	cut(func(p clipPoint) float64 { return reach(p) + p.at[1] })
	for i, p := range poly {
		out[i] = snap(v.pixel(p.at))
	}
	return len(poly)
}

// clipBy appends to out the part of a convex polygon where inside is ≥ 0. New
// corners are computed from the inner end to the outer, so that two triangles
// that share a side get the same corner.
func clipBy(poly, out []clipPoint, inside func(clipPoint) float64) []clipPoint {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		in, next := inside(p), inside(q)
		if in >= 0 {
			out = append(out, p)
		}
		switch {
		case in >= 0 && next < 0:
			out = append(out, between(p, q, in/(in-next)))
		case in < 0 && next >= 0:
			out = append(out, between(q, p, next/(next-in)))
		}
	}
	return out
}

func between(p, q clipPoint, share float64) clipPoint {
	return clipPoint{at: p.at.Add(q.at.Sub(p.at).Mul(share)), cutMM: p.cutMM + (q.cutMM-p.cutMM)*share}
}

// clippedSegment cuts a line like clipped; ok is false when nothing is left.
func (v *view) clippedSegment(a, b clipPoint, hasCut bool) (p, q geom.Vec, ok bool) {
	keep := func(aMM, bMM float64) bool { // how far the ends are inside
		if aMM < 0 && bMM < 0 {
			return false
		}
		if aMM < 0 {
			a = between(b, a, bMM/(bMM-aMM))
		} else if bMM < 0 {
			b = between(a, b, aMM/(aMM-bMM))
		}
		return true
	}
	if !keep(a.at[2]-v.nearMM, b.at[2]-v.nearMM) {
		return p, q, false
	}
	if hasCut && !keep(-a.cutMM, -b.cutMM) {
		return p, q, false
	}
	return a.at, b.at, true
}
