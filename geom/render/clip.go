package render

import "aftbay/geom"

// MaxCuts is how many cuts a picture may have: one bit each in corner.out.
const MaxCuts = 24

// cutPlane is a cut in the view frame.
type cutPlane struct {
	normal   geom.Vec // right, up, depth
	offsetMM float64  // of the eye
	faces    bool     // the eye is on the side taken away, so that caps can be seen
}

// beyondMM returns how far a vehicle point lies on the side that a cut takes away,
// times the length of its normal; negative on the other side.
func (c *Cut) beyondMM(p geom.Vec) float64 { return p.Sub(c.Point).Dot(c.Normal) }

// onCutMM is how far beyond a cut a point still lies on it: what a cut is put
// through, as the two points of a narrowest place, is met to rounding only. Less
// can't be seen.
const onCutMM = 0.05

// cutAway reports whether the cuts take a vehicle point away.
func (p *painter) cutAway(at geom.Vec) bool {
	for k := range p.o.Cuts {
		if c := &p.o.Cuts[k]; c.beyondMM(at) > onCutMM*c.Normal.Len() {
			return true
		}
	}
	return false
}

// witnessesLeft returns the dimension lines but for those whose ends are both
// taken away.
func (p *painter) witnessesLeft() []Witness {
	list := p.scene.Overlay.Witnesses
	if len(p.o.Cuts) == 0 {
		return list
	}
	var left []Witness
	for _, d := range list {
		if !p.cutAway(d.From) || !p.cutAway(d.To) {
			left = append(left, d)
		}
	}
	return left
}

// setCuts turns the cuts into the view frame.
func (v *view) setCuts(cuts []Cut) {
	v.cuts = make([]cutPlane, len(cuts))
	for k := range cuts {
		n := cuts[k].Normal
		c := cutPlane{normal: geom.Vec{n.Dot(v.right), n.Dot(v.up), -n.Dot(v.back)}, offsetMM: v.eye.Sub(cuts[k].Point).Dot(n)}
		if c.faces = c.offsetMM > 0; v.cam.Parallel {
			c.faces = n.Dot(v.back) > 0
		}
		v.cuts[k] = c
	}
}

// beyondMM returns how far a view point lies on the side taken away, times the
// length of the cut's normal; negative on the other side.
func (c *cutPlane) beyondMM(viewPoint geom.Vec) float64 {
	return viewPoint.Dot(c.normal) + c.offsetMM
}

// maxClipped bounds the corners of a clipped triangle: 3 + one a plane.
const maxClipped = 3 + 5 + MaxCuts

// clipped cuts a triangle of view points by the near plane, the guard band and
// the cuts whose bits are set. It returns the corners left (fewer than 3:
// nothing), in out's memory.
func (v *view) clipped(tri [3]geom.Vec, reasons uint32, out *[maxClipped]corner) int {
	var bufA, bufB [maxClipped]geom.Vec
	poly := append(bufA[:0], tri[:]...)
	spare := bufB[:0]
	cut := func(inside func(p geom.Vec) float64) {
		spare = clipBy(poly, spare[:0], inside)
		poly, spare = spare, poly
	}
	cut(func(p geom.Vec) float64 { return p[2] - v.nearMM })
	for k := range v.cuts {
		if reasons&(outCut<<k) != 0 {
			cut(func(p geom.Vec) float64 { return -v.cuts[k].beyondMM(p) })
		}
	}
	// The guard band is a pyramid, or a box when parallel, around the picture.
	slope := guardPx / 2 / v.scalePx
	reach := func(p geom.Vec) float64 { return slope * p[2] }
	if v.cam.Parallel {
		reach = func(geom.Vec) float64 { return slope * v.cam.DistMM }
	}
	cut(func(p geom.Vec) float64 { return reach(p) - p[0] })
	cut(func(p geom.Vec) float64 { return reach(p) + p[0] })
	cut(func(p geom.Vec) float64 { return reach(p) - p[1] })
	cut(func(p geom.Vec) float64 { return reach(p) + p[1] })
	for i, p := range poly {
		out[i] = snap(v.pixel(p))
	}
	return len(poly)
}

// clipBy appends to out the part of a convex polygon where inside is ≥ 0. New
// corners are computed from the inner end to the outer, so that two triangles
// that share a side get the same corner.
func clipBy(poly, out []geom.Vec, inside func(geom.Vec) float64) []geom.Vec {
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

func between(p, q geom.Vec, share float64) geom.Vec { return p.Add(q.Sub(p).Mul(share)) }

// clippedSegment cuts a line between view points like clipped, by all cuts or
// none; ok is false when nothing is left.
func (v *view) clippedSegment(a, b geom.Vec, byCuts bool) (p, q geom.Vec, ok bool) {
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
	if !keep(a[2]-v.nearMM, b[2]-v.nearMM) {
		return p, q, false
	}
	if byCuts {
		for k := range v.cuts {
			if c := &v.cuts[k]; !keep(-c.beyondMM(a), -c.beyondMM(b)) {
				return p, q, false
			}
		}
	}
	return a, b, true
}
