package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// orientError is Shewchuk's bound for the determinant below as a ratio to its
// permanent, (7 + 56·2^-53)·2^-53, rounded up.
// Source: J. R. Shewchuk, "Adaptive precision floating-point arithmetic and fast
// robust geometric predicates", 1997, from memory.
const orientError = 8 * 0x1p-53

// orient returns the sign of the volume of the tetrahedron a, b, c, d: +1 when d
// lies on the side of a, b, c from which they run clockwise, -1 on the other, 0
// when the four are exactly coplanar. The sign is exact for the given numbers.
func orient(a, b, c, d geom.Vec) int {
	ax, ay, az := a[0]-d[0], a[1]-d[1], a[2]-d[2]
	bx, by, bz := b[0]-d[0], b[1]-d[1], b[2]-d[2]
	cx, cy, cz := c[0]-d[0], c[1]-d[1], c[2]-d[2]
	xy1, xy2 := bx*cy, cx*by
	yz1, yz2 := cx*ay, ax*cy
	zx1, zx2 := ax*by, bx*ay
	det := az*(xy1-xy2) + bz*(yz1-yz2) + cz*(zx1-zx2)
	bound := (math.Abs(xy1)+math.Abs(xy2))*math.Abs(az) +
		(math.Abs(yz1)+math.Abs(yz2))*math.Abs(bz) +
		(math.Abs(zx1)+math.Abs(zx2))*math.Abs(cz)
	switch {
	case det > orientError*bound:
		return 1
	case -det > orientError*bound:
		return -1
	case bound == 0:
		return 0 // a corner is met exactly, or all lies in a coordinate plane
	}
	return orientExact(a, b, c, d)
}

// orientExact is orient in whole numbers of any size.
func orientExact(a, b, c, d geom.Vec) int {
	if s, ok := orientWhole(a, b, c, d); ok {
		return s
	}
	return orientBig(a, b, c, d)
}

// orientBig is orientExact whatever the numbers.
func orientBig(a, b, c, d geom.Vec) int {
	w := integers(a[0], a[1], a[2], b[0], b[1], b[2], c[0], c[1], c[2], d[0], d[1], d[2])
	n := &w.n
	for i := range 9 {
		n[i].Sub(&n[i], &n[9+i%3])
	}
	det, term, other := &n[9], &n[10], &n[11]
	det.SetInt64(0)
	for k := range 3 { // rows k, k+1, k+2 of the three differences
		y, z := (3*k+3)%9, (3*k+6)%9
		term.Mul(&n[y], &n[z+1])
		term.Sub(term, other.Mul(&n[z], &n[y+1]))
		det.Add(det, other.Mul(term, &n[3*k+2]))
	}
	return det.Sign()
}

// crossing returns a common point of two triangles, if an edge of one passes
// through the other or ends on it, by exact signs. Triangles in one plane are not
// looked at here: their edges and corners give distance 0.
func crossing(a, b *bvh.Triangle) (geom.Vec, bool) {
	for i := range 3 {
		if p, ok := pierce(a[i], a[(i+1)%3], b); ok {
			return p, true
		}
		if p, ok := pierce(b[i], b[(i+1)%3], a); ok {
			return p, true
		}
	}
	return geom.Vec{}, false
}

// pierce returns where the segment p-q meets the triangle, borders included.
func pierce(p, q geom.Vec, t *bvh.Triangle) (geom.Vec, bool) {
	sp, sq := orient(t[0], t[1], t[2], p), orient(t[0], t[1], t[2], q)
	if sp*sq > 0 || sp == 0 && sq == 0 {
		return geom.Vec{}, false
	}
	u, v, w := orient(p, q, t[0], t[1]), orient(p, q, t[1], t[2]), orient(p, q, t[2], t[0])
	if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
		return geom.Vec{}, false
	}
	return throughPlane(p, q, t), true
}

// throughPlane returns the point of the segment p-q in the plane of t, held to
// the segment. The ends must not lie both in the plane.
func throughPlane(p, q geom.Vec, t *bvh.Triangle) geom.Vec {
	n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	pMM, qMM := p.Sub(t[0]).Dot(n), q.Sub(t[0]).Dot(n) // scaled by the normal's length
	s := pMM / (pMM - qMM)
	if !(s >= 0) {
		s = 0
	}
	return p.Add(q.Sub(p).Mul(min(s, 1)))
}

// passes reports whether the segment p-q passes through the inside of t, its
// ends strictly on either side.
func passes(p, q geom.Vec, t *bvh.Triangle) bool {
	if orient(t[0], t[1], t[2], p)*orient(t[0], t[1], t[2], q) >= 0 {
		return false
	}
	u, v, w := orient(p, q, t[0], t[1]), orient(p, q, t[1], t[2]), orient(p, q, t[2], t[0])
	return u != 0 && u == v && v == w
}
