package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// tilt is a plane between two swept triangles that leans as they turn: its
// normal is along + the sum of w[k]·(t[k] - from[k]) for turns that have gone
// t[k] of their largest angle. How far the triangles are apart along the normal
// is their distance at most, whatever the normal; a good one leans so that it
// stays square to the edges that are nearest, and then what is lost goes with
// the square of the angles.
//
// Let a turning point be p, the pivot P, u = p - P, and a[k] the axes times the
// largest angles. The turns move p by
//
//	sum t[k] a[k]×u + 1/2 sum t[k]² a[k]×(a[k]×u) + sum over k<l of t[k] t[l] a[l]×(a[k]×u) + R
//
// where turn l follows on turn k: the Taylor series of the product of rotations
// along the straight way from no turn to t. Its third derivative is a sum of
// products of three of the axes and rotations, so |R| is at most s³|u|/6 with s
// the sum of all |a[k]|. Times the normal this gives a bend in t, linear in p,
// and thus least for a corner of the triangle; what is left out of it is at
// most |normal|·|R| plus s²|u|/2 times how far the normal leans.
//
// The normal's length is 1 where t is from, and elsewhere the root of 1 + x²
// with x = |sum of w[k]·(t[k] - from[k])|, never above 1 + x²/2. So if the
// triangles are apart along the normal by refMM·(1 + x²/2) + m, their distance
// is at least refMM + m for m below 0, refMM + m over the greatest length above.
type tilt struct {
	turns, ofA int
	terms      int
	along      geom.Vec // unit direction from a to b, or zero
	refMM      float64

	ofPoint [2]affineBend // what a point of a, of b, each in its own frame, adds to the gap along the normal
	pivot   [2]geom.Vec   // in these frames
	restMM  [2]float64    // per mm between a point and its pivot: what the bends leave out
	long    float64       // Bare numbers: the greatest length of the normal

	// What the shift adds, for each corner of the shift box that may be the one.
	shifts  int
	shift   [8]bend
	corner  [8]geom.Vec // Bare numbers: ±1 of each half edge
	shiftMM float64     // the least of all shift's
}

// affineBend is a bend that is linear in a point.
type affineBend struct {
	per   [len(bend{})]geom.Vec
	fixed bend
}

// at returns the bend for a point.
func (f *affineBend) at(p *geom.Vec, terms int) (b bend) {
	for k := range terms {
		g := &f.per[k]
		b[k] = g[0]*p[0] + g[1]*p[1] + g[2]*p[2] + f.fixed[k]
	}
	return b
}

// pose makes f the same for points in the frame of b.
func (f *affineBend) pose(toA, toB *geom.Pose, terms int) {
	for k := range terms {
		f.fixed[k] += f.per[k].Dot(toA.T)
		f.per[k] = toB.R.Mul3x1(f.per[k])
	}
}

// leaning is what a tilt is made from.
type leaning struct {
	along geom.Vec // unit direction from a to b
	w     [mostTurns]geom.Vec
	from  spread
	near  geom.Vec // a point near the place where the triangles are nearest
	refMM float64
}

// tilted returns the plane for a leaning.
func (s *sweptSearch) tilted(l *leaning) (c tilt) {
	c.turns, c.ofA, c.terms, c.along, c.refMM, c.pivot = s.turns, s.ofA, bendTerms(s.turns), l.along, l.refMM, [2]geom.Vec{s.pivot[0], s.toB.Point(s.pivot[1])}
	normal := l.along // where no turn has gone anywhere
	var lean, leanMost float64
	for k := range s.turns {
		normal = normal.Sub(l.w[k].Mul(l.from[k]))
		size := l.w[k].Len()
		lean += size
		leanMost += size * (1 + math.Abs(l.from[k]))
	}
	c.long = 1 + leanMost*leanMost/2
	for body := range 2 {
		angle := s.angle[body]
		c.restMM[body] = angle * angle * (c.long*angle/6 + lean/2)
		c.ofPoint[body] = s.ofPoint(l, normal, body)
	}
	c.ofPoint[1].pose(&s.toA, &s.toB, c.terms)
	s.addShifts(l, normal, &c)
	return c
}

// ofPoint returns what a point of a body adds to the gap along the normal.
func (s *sweptSearch) ofPoint(l *leaning, normal geom.Vec, body int) (f affineBend) {
	first, last, sign := 0, s.ofA, -1.0
	if body == 1 {
		first, last, sign = s.ofA, s.turns, 1
	}
	pivot := s.pivot[body]
	add := func(term int, per, at geom.Vec) {
		f.per[term] = f.per[term].Add(per.Mul(sign))
		f.fixed[term] -= sign * per.Dot(at)
	}
	add(0, normal, l.near)
	var b bend
	for k := range s.turns {
		add(1+k, l.w[k], l.near)
		if k < first || k >= last {
			continue
		}
		// (a×u)·n = (n×a)·u
		add(1+k, normal.Cross(s.axis[k]), pivot)
		for i := range s.turns {
			add(b.term(i, k, s.turns), l.w[i].Cross(s.axis[k]), pivot)
		}
		for m := k; m < last; m++ {
			// n·(b×(a×u)) = (n·a)(b·u) - (b·a)(n·u)
			per := s.axis[m].Mul(normal.Dot(s.axis[k])).Sub(normal.Mul(s.axis[m].Dot(s.axis[k])))
			if m == k {
				per = per.Mul(0.5)
			}
			add(b.term(k, m, s.turns), per, pivot)
		}
	}
	return f
}

// addShifts fills in what the shift of a adds, together with what the length of
// the normal takes.
func (s *sweptSearch) addShifts(l *leaning, normal geom.Vec, c *tilt) {
	var all bend
	var lean geom.Vec // at no turn
	for k := range s.turns {
		lean = lean.Sub(l.w[k].Mul(l.from[k]))
	}
	all[0] = -l.refMM * (1 + lean.LenSqr()/2)
	for i := range s.turns {
		all[1+i] = -l.refMM * lean.Dot(l.w[i])
		for j := i; j < s.turns; j++ {
			share := l.refMM
			if i == j {
				share /= 2
			}
			all[all.term(i, j, s.turns)] = -share * l.w[i].Dot(l.w[j])
		}
	}
	c.shifts = 1
	c.shift[0] = all
	for e, half := range s.half {
		reachMM := normal.Dot(half)
		var changeMM float64
		for k := range s.turns {
			changeMM += math.Abs(l.w[k].Dot(half))
		}
		count := c.shifts
		for i := range count {
			sign := math.Copysign(1, reachMM)
			if math.Abs(reachMM) < changeMM { // either end may be the one
				other := c.shifts
				c.shift[other], c.corner[other] = c.shift[i], c.corner[i]
				c.move(other, e, -sign, normal, half, l)
				c.shifts++
			}
			c.move(i, e, sign, normal, half, l)
		}
	}
	c.shiftMM = math.Inf(1)
	for i := range c.shifts {
		leastMM, _ := c.shift[i].least(c.turns)
		c.shiftMM = min(c.shiftMM, leastMM)
	}
}

// move adds one half edge of the shift box to a shift.
//
// Bare numbers: sign is which end.
func (c *tilt) move(i, edge int, sign float64, normal, half geom.Vec, l *leaning) {
	c.corner[i][edge] = sign
	c.shift[i][0] -= sign * normal.Dot(half)
	for k := range c.turns {
		c.shift[i][1+k] -= sign * l.w[k].Dot(half)
	}
}

// laid is a triangle as a tilt sees it.
type laid struct {
	tri     *bvh.Triangle
	part    [3]bend // of each corner
	leastMM float64 // the least of all corners'
	restMM  float64 // what the bends leave out
}

// lay fills in what a triangle of a body adds to the gap.
func (c *tilt) lay(w *laid, body int) {
	w.leastMM = math.Inf(1)
	var armMM2 float64
	for k := range w.tri {
		w.part[k] = c.ofPoint[body].at(&w.tri[k], c.terms)
		leastMM, _ := w.part[k].least(c.turns)
		w.leastMM = min(w.leastMM, leastMM)
		armMM2 = max(armMM2, w.tri[k].Sub(c.pivot[body]).LenSqr())
	}
	w.restMM = c.restMM[body] * math.Sqrt(armMM2)
}

// boxMM returns a lower bound of what any point of a box adds to the gap, for a box
// of a body in its own frame. Around the middle each number of the bend changes by what the half
// edges reach at most, and no turn goes further than 1.
func (c *tilt) boxMM(box *geom.Box, body int) float64 {
	mid, half := box.Center(), box.Size().Mul(0.5)
	f := &c.ofPoint[body]
	b := f.at(&mid, c.terms)
	leastMM, _ := b.least(c.turns)
	var reachMM float64
	for k := range c.terms {
		g := &f.per[k]
		reachMM += math.Abs(g[0])*half[0] + math.Abs(g[1])*half[1] + math.Abs(g[2])*half[2]
	}
	return leastMM - reachMM - c.restMM[body]*(mid.Sub(c.pivot[body]).Len()+half.Len())
}

// quickMM returns a quick lower bound of the distance of two triangles: each at
// its nearest, though that may be at different turns.
func (c *tilt) quickMM(a, b *laid) float64 {
	return c.boundMM(a.leastMM + b.leastMM + c.shiftMM - a.restMM - b.restMM)
}

// apartMM returns a lower bound of the distance of two triangles anywhere in the
// sweep, and the turns at which it is about reached.
func (c *tilt) apartMM(a, b *laid) (lowMM float64, at spread) {
	lowMM = math.Inf(1)
	for e := range c.shifts {
		for i := range 3 {
			var one bend
			for k := range c.terms {
				one[k] = c.shift[e][k] + a.part[i][k]
			}
			for j := range 3 {
				var both bend
				for k := range c.terms {
					both[k] = one[k] + b.part[j][k]
				}
				if leastMM, t := both.least(c.turns); leastMM < lowMM {
					lowMM, at = leastMM, t
				}
			}
		}
	}
	return c.boundMM(lowMM - a.restMM - b.restMM), at
}

// boundMM turns what is left above refMM along the normal into a distance.
func (c *tilt) boundMM(moreMM float64) float64 {
	if moreMM > 0 {
		moreMM /= c.long
	}
	return c.refMM + moreMM
}
