package lead

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// line is a straight piece of a lead, relative to a tree's origin.
type line struct {
	from, to geom.Vec
}

// meets reports whether a line comes nearer than withinMM to a mesh, or passes
// through its surface. The line is in the part frame.
func meets(t *bvh.Tree, from, to geom.Vec, withinMM float64) bool {
	if t.Len() == 0 {
		return false
	}
	origin := t.Origin()
	l := line{from.Sub(origin), to.Sub(origin)}
	asked := bvh.NewLine(l.from, l.to, withinMM)
	if !t.MayMeet(0, &asked) {
		return false
	}
	var stack [128]int32
	top := 1 // the root, node 0
	for top > 0 {
		top--
		left, first, count := t.Under(int(stack[top]))
		for i := first; i < first+count; i++ {
			if l.crosses(t.Slot(i)) || withinMM > 0 && l.near(t.Slot(i), withinMM) {
				return true
			}
		}
		for child := left; left > 0 && child < left+2; child++ {
			if t.MayMeet(child, &asked) {
				stack[top] = int32(child)
				top++
			}
		}
	}
	return false
}

// near reports whether a line comes nearer than withinMM to a triangle that it
// does not cross.
func (l *line) near(t *bvh.Triangle, withinMM float64) bool {
	// The side of the plane decides most.
	normal := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	from, to := normal.Dot(l.from.Sub(t[0])), normal.Dot(l.to.Sub(t[0]))
	if least := withinMM * normal.Len(); from > least && to > least || from < -least && to < -least {
		return false
	}
	for i := range t {
		if betweenMM(l.from, l.to, t[i], t[(i+1)%3]) < withinMM {
			return true
		}
	}
	least := withinMM * normal.Len()
	return math.Abs(from) < least && over(t, normal, l.from) || math.Abs(to) < least && over(t, normal, l.to)
}

// over reports whether a point lies over or under a triangle; normal is of any
// length.
func over(t *bvh.Triangle, normal, p geom.Vec) bool {
	for i := range t {
		if t[(i+1)%3].Sub(t[i]).Cross(p.Sub(t[i])).Dot(normal) < 0 {
			return false
		}
	}
	return true
}

// crosses reports whether a line passes through a triangle.
func (l *line) crosses(t *bvh.Triangle) bool {
	u, v, way := t[1].Sub(t[0]), t[2].Sub(t[0]), l.to.Sub(l.from)
	normal := u.Cross(v)
	det := -way.Dot(normal)
	if det == 0 {
		return false // along it: the edges tell
	}
	off := l.from.Sub(t[0])
	at := off.Dot(normal) / det
	if at < 0 || at > 1 {
		return false
	}
	turned := off.Cross(way)
	a, b := v.Dot(turned)/det, -u.Dot(turned)/det
	return a >= 0 && b >= 0 && a+b <= 1
}

// betweenMM returns the distance of the segments a-b and c-d.
//
// Source: C. Ericson, Real-Time Collision Detection, 2005, 5.1.9 (from memory);
// the tests compare it with the triangle kernels.
func betweenMM(a, b, c, d geom.Vec) float64 {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, vv, uv := u.Dot(u), v.Dot(v), u.Dot(v)
	if uu == 0 || vv == 0 {
		if uu == 0 {
			return a.Sub(bvh.OnSegment(a, c, d)).Len()
		}
		return c.Sub(bvh.OnSegment(c, a, b)).Len()
	}
	uw, vw := u.Dot(w), v.Dot(w)
	s, det := 0.0, uu*vv-uv*uv
	if det > 0 {
		s = math.Min(1, math.Max(0, (uv*vw-uw*vv)/det))
	}
	t := (uv*s + vw) / vv
	if t < 0 || t > 1 {
		t = math.Min(1, math.Max(0, t))
		s = math.Min(1, math.Max(0, (uv*t-uw)/uu))
	}
	return w.Add(u.Mul(s)).Sub(v.Mul(t)).Len()
}
