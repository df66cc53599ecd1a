package dist

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

const (
	// mostTries ends the search for the best tilt of one pair: each one starts at
	// the turns where the last one was least, which settles after one or two.
	mostTries = 4
	// parallel is the sine below which two edges count as one: a tilt that stays
	// square to both would lean far.
	parallel = 1e-3
)

// try settles one pair: by a tilt square to what is nearest in the pose where the
// last tilt says that they are nearest. It reports whether the tilt of the
// search is another one.
func (s *sweptSearch) try(a, b *laid) bool {
	lowMM, at := s.tilt.apartMM(a, b)
	if lowMM >= s.bestMM {
		return false
	}
	kept := false
	var tb bvh.Triangle
	for k := range tb {
		tb[k] = s.toA.Point(b.tri[k])
	}
	for range mostTries {
		g, near := s.between(a.tri, &tb, &at)
		if g.highMM < s.highMM {
			s.highMM, s.at, s.atShift = g.highMM, at, g.shift
		}
		if g.highMM == 0 {
			s.found, s.bestMM = true, 0
			return true
		}
		l := leaning{along: g.along, from: at, near: near, refMM: min(g.highMM, s.bestMM)}
		s.lean(&l, &g, a.tri, &tb)
		c, nowMM, next := s.measure(&l, a.tri, b.tri)
		if nowMM > lowMM || !kept {
			lowMM, s.tilt, kept = max(lowMM, nowMM), c, true
		}
		if lowMM >= s.bestMM {
			return true
		}
		if next == at {
			if s.turns > 0 {
				lowMM = max(lowMM, s.stiff(&l, a.tri, b.tri))
			}
			break
		}
		at = next
	}
	if lowMM < s.bestMM {
		s.found, s.bestMM = true, max(0, lowMM)
	}
	return true
}

// measure lays a pair, each in its own frame, under a leaning.
func (s *sweptSearch) measure(l *leaning, ta, tb *bvh.Triangle) (c tilt, lowMM float64, at spread) {
	c = s.tilted(l)
	a, b := laid{tri: ta}, laid{tri: tb}
	c.lay(&a, 0)
	c.lay(&b, 1)
	lowMM, at = c.apartMM(&a, &b)
	return c, lowMM, at
}

// stiff tries the same plane when it does not lean, or turns with a or with b.
func (s *sweptSearch) stiff(l *leaning, ta, tb *bvh.Triangle) (lowMM float64) {
	for body := range 3 {
		with := *l
		for k := range s.turns {
			with.w[k] = geom.Vec{}
			if body == 0 && k < s.ofA || body == 1 && k >= s.ofA {
				with.w[k] = s.axis[k].Cross(l.along)
			}
		}
		c, nowMM, _ := s.measure(&with, ta, tb)
		if nowMM > lowMM {
			lowMM = nowMM
			if lowMM >= s.bestMM {
				s.tilt = c
				return lowMM
			}
		}
	}
	return lowMM
}

// between returns the distance of two triangles, given where they stand without
// turns in the frame of a, at some turns over all shifts, and a point near where it is reached.
func (s *sweptSearch) between(ta, tb *bvh.Triangle, at *spread) (g convexGap, near geom.Vec) {
	pa, pb := s.turned(0, s.ofA, at), s.turned(s.ofA, s.turns, at)
	var a, b bvh.Triangle
	for k := range 3 {
		a[k] = pa.Point(ta[k].Sub(s.pivot[0])).Add(s.pivot[0])
		b[k] = pb.Point(tb[k].Sub(s.pivot[1])).Add(s.pivot[1])
	}
	start := s.tilt.along
	if start == (geom.Vec{}) {
		start = b[0].Sub(a[0])
	}
	g = convex(func(along geom.Vec) vertex { return s.furthest(&a, &b, along) }, start, s.sizeMM, math.Inf(1))
	for i := range g.face.count {
		near = near.Add(b[g.face.at[i].b].Mul(g.face.weights[i]))
	}
	return g, near
}

// turned returns the rotation of turns first up to last, the first one first.
func (s *sweptSearch) turned(first, last int, at *spread) geom.Pose {
	r := mgl64.Ident3()
	for k := first; k < last; k++ {
		if angle := s.axis[k].Len(); angle > 0 {
			r = mgl64.HomogRotate3D(angle*at[k], s.axis[k].Mul(1/angle)).Mat3().Mul3(r)
		}
	}
	return geom.Pose{R: r}
}

// furthest returns the corner of (a shifted) − b that lies furthest along a
// direction.
func (s *sweptSearch) furthest(a, b *bvh.Triangle, along geom.Vec) (v vertex) {
	v.a, v.b = furthestCorner(a, along), furthestCorner(b, along.Mul(-1))
	for k, e := range s.half {
		if e.Dot(along) < 0 {
			e = e.Mul(-1)
			v.ends |= 1 << k
		}
		v.shift = v.shift.Add(e)
	}
	v.diff = a[v.a].Sub(b[v.b]).Add(v.shift)
	return v
}

// furthestCorner returns the corner of a triangle that lies furthest along a
// direction.
func furthestCorner(t *bvh.Triangle, along geom.Vec) (corner int) {
	most := t[0].Dot(along)
	for k := 1; k < 3; k++ {
		if x := t[k].Dot(along); x > most {
			corner, most = k, x
		}
	}
	return corner
}

// lean sets how the plane leans: it stays square to the edges that are nearest,
// of a and b as they turn, and of the shift, which does not turn.
func (s *sweptSearch) lean(l *leaning, g *convexGap, ta, tb *bvh.Triangle) {
	var edges [12]nearEdge
	all := s.nearest(edges[:0], g, ta, tb, &l.from)
	one, two, sine := widest(all)
	if len(all) == 0 {
		return
	}
	n := l.along
	for k := range s.turns {
		body := 0
		if k >= s.ofA {
			body = 1
		}
		// How much the turn brings each edge out of the plane.
		out := func(e *nearEdge) float64 {
			if e.body != body {
				return 0
			}
			return -n.Dot(s.axis[k].Cross(e.along))
		}
		x := out(&one)
		if sine < parallel {
			l.w[k] = one.along.Mul(x)
			continue
		}
		y := out(&two)
		size := n.Dot(one.along.Cross(two.along))
		l.w[k] = two.along.Cross(n).Mul(x / size).Sub(one.along.Cross(n).Mul(y / size))
	}
}

// nearEdge is an edge, of a unit length, that lies in the plane of the nearest
// points.
type nearEdge struct {
	along geom.Vec
	body  int // 0 or 1; 2 for the shift
}

// nearest appends the edges between the corners that a distance hangs on.
func (s *sweptSearch) nearest(to []nearEdge, g *convexGap, ta, tb *bvh.Triangle, at *spread) []nearEdge {
	pa, pb := s.turned(0, s.ofA, at), s.turned(s.ofA, s.turns, at)
	add := func(along geom.Vec, body int) {
		along = along.Sub(g.along.Mul(along.Dot(g.along)))
		if size := along.Len(); size > 0 {
			to = append(to, nearEdge{along.Mul(1 / size), body})
		}
	}
	first := &g.face.at[0]
	for i := 1; i < g.face.count; i++ {
		v := &g.face.at[i]
		if v.a != first.a {
			add(pa.Dir(ta[v.a].Sub(ta[first.a])), 0)
		}
		if v.b != first.b {
			add(pb.Dir(tb[v.b].Sub(tb[first.b])), 1)
		}
		for k, e := range s.half {
			if (v.ends^first.ends)>>k&1 == 1 {
				add(e, 2)
			}
		}
	}
	return to
}

// widest returns the two edges of the largest angle, or one twice.
//
// Bare numbers: the sine of that angle.
func widest(all []nearEdge) (one, two nearEdge, sine float64) {
	if len(all) > 0 {
		one, two = all[0], all[0]
	}
	for i := range all {
		for j := range i {
			if x := all[i].along.Cross(all[j].along).Len(); x > sine {
				one, two, sine = all[i], all[j], x
			}
		}
	}
	return one, two, sine
}
