package dist

import "aftbay/geom"

// segments returns the nearest points of the segments a0-a1 and b0-b1. Both are
// points of their segments; segments without length count as points.
//
// The place on a is that of the common perpendicular, held to the segment; the
// place on b follows, and where that had to be held to its segment, the place on
// a once more. The perpendicular is found by cross products, not by the
// difference a·c−b², which loses all digits for nearly parallel segments: here
// the error of the distance stays at rounding level at every angle.
//
// Source: C. Ericson, "Real-time collision detection", 2005, section 5.1.9 (the
// order of the clamps; from memory).
func segments(a0, a1, b0, b1 geom.XYZ) (p, q geom.XYZ) {
	da, db := a1.Sub(a0), b1.Sub(b0)
	w := b0.Sub(a0)
	la, lb := da.LenSqr(), db.LenSqr()
	n := da.Cross(db)
	s := 0.0
	if n2 := n.LenSqr(); n2 > 0 {
		s = hold(w.Cross(db).Dot(n), n2)
	}
	p = a0.Add(da.Mul(s))
	t := p.Sub(b0).Dot(db)
	switch {
	case !(t > 0):
		q = b0
	case t >= lb:
		q = b1
	default:
		return p, b0.Add(db.Mul(t / lb))
	}
	return a0.Add(da.Mul(hold(q.Sub(a0).Dot(da), la))), q
}

// hold returns u/v held to 0..1; 0 for 0/0.
//
// Bare numbers: a place along a segment, as a quotient of equals.
func hold(u, v float64) float64 {
	switch {
	case !(u > 0):
		return 0
	case u >= v:
		return 1
	}
	return u / v
}
