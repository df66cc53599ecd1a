package dist

import "aftbay/geom"

// segments returns the nearest points of the segments a0-a1 and b0-b1. Both are
// points of their segments; segments without length count as points.
//
// The foot of the common perpendicular is found by cross products, not by the
// difference a·c−b², which loses all digits for nearly parallel segments: here
// the error of the distance stays at rounding level at every angle.
func segments(a0, a1, b0, b1 geom.Vec) (p, q geom.Vec) {
	da, db := a1.Sub(a0), b1.Sub(b0)
	w := b0.Sub(a0)
	n := da.Cross(db)
	if n2 := n.LenSqr(); n2 > 0 {
		s := w.Cross(db).Dot(n) / n2
		t := w.Cross(da).Dot(n) / n2
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			return a0.Add(da.Mul(s)), b0.Add(db.Mul(t))
		}
	}
	return segmentEnds(a0, a1, b0, b1)
}

// segmentEnds returns the nearest of the four pairs of an end and the other
// segment: the answer where the common perpendicular misses one of them.
func segmentEnds(a0, a1, b0, b1 geom.Vec) (p, q geom.Vec) {
	p, q = a0, onSegment(a0, b0, b1)
	best := p.Sub(q).LenSqr()
	if x := onSegment(a1, b0, b1); x.Sub(a1).LenSqr() < best {
		p, q, best = a1, x, x.Sub(a1).LenSqr()
	}
	if x := onSegment(b0, a0, a1); x.Sub(b0).LenSqr() < best {
		p, q, best = x, b0, x.Sub(b0).LenSqr()
	}
	if x := onSegment(b1, a0, a1); x.Sub(b1).LenSqr() < best {
		p, q = x, b1
	}
	return p, q
}
