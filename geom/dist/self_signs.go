package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// insidesMeet reports whether the open insides of two triangles have a point in
// common and they do not lie back to back, and returns such a point, to within
// rounding. Triangles without area have no inside. Exact.
//
// Method: each triangle must have corners strictly on both sides of the other's
// plane; the stretches that the two cut from the common line of the planes then
// overlap exactly if two of their ends stand in the right order, which two more
// signs tell.
//
// Source: P. Guigue, O. Devillers, "Fast and robust triangle-triangle overlap
// test using orientation predicates", J. Graphics Tools 8(1), 2003 (the idea;
// the signs below were derived anew for open triangles).
//
// Corners that the two have in common, bit by bit in common, lie in both planes.
func insidesMeet(a, b *bvh.Triangle, common commonCorners) (geom.Vec, bool) {
	var sa, sb [3]int // sides of a's corners of the plane of b, and the reverse
	for k := range 3 {
		if common.ofA>>k&1 == 0 {
			sa[k] = orient(b[0], b[1], b[2], a[k])
		}
	}
	if sa == [3]int{} {
		return lieOnEachOther(a, b)
	}
	alone, ok := apart(sa)
	if !ok {
		return geom.Vec{}, false
	}
	for k := range 3 {
		if common.ofB>>k&1 == 0 {
			sb[k] = orient(a[0], a[1], a[2], b[k])
		}
	}
	lone, ok := apart(sb)
	if !ok {
		return geom.Vec{}, false
	}
	// Turn both so that the first corner stands alone, and facing so that each
	// first corner is on the outer side of the other plane (orient -1).
	a, b = begunAt(a, alone, sb[lone] > 0), begunAt(b, lone, sa[alone] > 0)
	if orient(a[0], a[1], b[0], b[1]) <= 0 || orient(a[0], a[2], b[0], b[2]) >= 0 {
		return geom.Vec{}, false
	}
	return amidCut(a, b), true
}

// apart returns the corner that stands strictly on one side of a plane while the
// others stand on the other side or on it, one of them strictly; ok is false when
// the plane does not part the corners.
func apart(sides [3]int) (alone int, ok bool) {
	for k := range 3 {
		s, t, u := sides[k], sides[(k+1)%3], sides[(k+2)%3]
		if s != 0 && s*t <= 0 && s*u <= 0 && (t != 0 || u != 0) {
			return k, true
		}
	}
	return 0, false
}

// begunAt returns t begun at corner first, the other two swapped if asked for.
func begunAt(t *bvh.Triangle, first int, swapped bool) *bvh.Triangle {
	q, r := t[(first+1)%3], t[(first+2)%3]
	if swapped {
		q, r = r, q
	}
	return &bvh.Triangle{t[first], q, r}
}

// amidCut returns the middle of what two crossing triangles, as insidesMeet has
// turned them, have in common.
func amidCut(a, b *bvh.Triangle) geom.Vec {
	ends := [4]geom.Vec{throughPlane(a[0], a[2], b), throughPlane(a[0], a[1], b), throughPlane(b[0], b[1], a), throughPlane(b[0], b[2], a)}
	along := ends[1].Sub(ends[0]).Add(ends[3].Sub(ends[2])) // the two point the same way
	from, to := ends[0], ends[1]
	if along.Dot(ends[2].Sub(from)) > 0 {
		from = ends[2]
	}
	if along.Dot(ends[3].Sub(to)) < 0 {
		to = ends[3]
	}
	return from.Add(to).Mul(0.5)
}

// lieOnEachOther is insidesMeet for triangles in one plane: whether they face the
// same way and no edge of either keeps the other off its inner side.
func lieOnEachOther(a, b *bvh.Triangle) (geom.Vec, bool) {
	for k := range 3 { // the first coordinate plane in which they do not vanish
		facing := turnIn(k, a[0], a[1], a[2])
		if facing == 0 {
			continue
		}
		if turnIn(k, b[0], b[1], b[2]) != facing || keepsOff(k, facing, a, b) || keepsOff(k, facing, b, a) {
			return geom.Vec{}, false
		}
		return amidShared(k, facing, a, b), true
	}
	return geom.Vec{}, false
}

// keepsOff reports whether an edge of t has all of u on its outer side or on it.
func keepsOff(k, facing int, t, u *bvh.Triangle) bool {
	for i := range 3 {
		p, q := t[i], t[(i+1)%3]
		if facing*turnIn(k, p, q, u[0]) <= 0 && facing*turnIn(k, p, q, u[1]) <= 0 && facing*turnIn(k, p, q, u[2]) <= 0 {
			return true
		}
	}
	return false
}

// amidShared returns the mean corner of the common part of two triangles in one
// plane: b, cut by the edges of a.
func amidShared(k, facing int, a, b *bvh.Triangle) geom.Vec {
	part := b[:]
	for i := range 3 {
		var cut []geom.Vec
		inMM2 := func(p geom.Vec) float64 {
			return float64(facing) * a[(i+1)%3].Sub(a[i]).Cross(p.Sub(a[i]))[k]
		}
		for j, p := range part {
			q := part[(j+1)%len(part)]
			pMM2, qMM2 := inMM2(p), inMM2(q)
			if pMM2 >= 0 {
				cut = append(cut, p)
			}
			if pMM2 > 0 && qMM2 < 0 || pMM2 < 0 && qMM2 > 0 {
				cut = append(cut, p.Add(q.Sub(p).Mul(pMM2/(pMM2-qMM2))))
			}
		}
		if len(cut) == 0 { // lost to rounding: less than a hair is shared
			break
		}
		part = cut
	}
	var sum geom.Vec
	for _, p := range part {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(part)))
}

// turnIn returns the sign of coordinate k of (q−p)×(r−p), exactly.
func turnIn(k int, p, q, r geom.Vec) int {
	l, m := (k+1)%3, (k+2)%3
	ul, um, vl, vm := q[l]-p[l], q[m]-p[m], r[l]-p[l], r[m]-p[m]
	x, y := ul*vm, um*vl
	switch diff := x - y; {
	case math.Abs(diff) > orientError*(math.Abs(x)+math.Abs(y)):
		return sign(diff)
	case (ul == 0 || vm == 0) && (um == 0 || vl == 0):
		return 0 // a difference of doubles is 0 only when it is exactly 0
	}
	return crossExact(p, q, p, r, l, m)
}
