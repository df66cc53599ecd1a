package dist

import (
	"math"
	"math/big"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// The predicates below decide as if b had been shifted by (ε, ε², ε³) with ε
// vanishingly small: every tie (a corner exactly in a face, edges that meet) is
// settled, always the same way for the same tie, so that the cut of two closed
// surfaces always closes. The given numbers are taken as exact.
//
// Source: H. Edelsbrunner, E. P. Mücke, "Simulation of simplicity", ACM Trans.
// Graphics 9(1), 1990 (the idea; from memory).

// owner says which of two bodies a face or edge belongs to.
type owner int

const (
	ofA owner = 1
	ofB owner = -1
)

// sideOf returns +1 when the point lies on the inner side of the face (the one
// from which its corners run clockwise), -1 on the outer; the face belongs to
// own, the point to the other body. 0 only for a face without area.
func sideOf(t *bvh.Triangle, p geom.Vec, own owner) int {
	if s := orient(t[0], t[1], t[2], p); s != 0 {
		return s
	}
	return -int(own) * firstSign(t[0], t[1], t[0], t[2])
}

// turnOf returns the sign of orient(p, q, u, v) for an edge p-q of own and an
// edge u-v of the other body; 0 only for parallel edges.
func turnOf(p, q, u, v geom.Vec, own owner) int {
	if s := orient(p, q, u, v); s != 0 {
		return s
	}
	return int(own) * firstSign(p, q, u, v)
}

// sides returns sideOf for the three corners of other, of the other body.
func sides(t, other *bvh.Triangle, own owner) (s [3]int) {
	for k, p := range other {
		s[k] = sideOf(t, p, own)
	}
	return s
}

// enters says how the segment p-q, of own, meets the face t of the other body,
// of which its ends lie on the sides sp and sq: +1 when it passes through from
// the outer side to the inner, -1 the other way, 0 when it does not pass.
func enters(p, q geom.Vec, sp, sq int, t *bvh.Triangle, own owner) int {
	if sp == sq {
		return 0
	}
	u := turnOf(p, q, t[0], t[1], own)
	if v := turnOf(p, q, t[1], t[2], own); v != u {
		return 0
	}
	if w := turnOf(p, q, t[2], t[0], own); w != u {
		return 0
	}
	return sq
}

// firstSign returns the sign of the first coordinate of (b−a)×(d−c) that is not
// zero, exactly; 0 for parallel differences.
func firstSign(a, b, c, d geom.Vec) int {
	u, v := b.Sub(a), d.Sub(c)
	for k := range 3 {
		l, m := (k+1)%3, (k+2)%3
		x, y := u[l]*v[m], u[m]*v[l]
		switch diff := x - y; {
		case math.Abs(diff) > orientError*(math.Abs(x)+math.Abs(y)):
			return sign(diff)
		case x == 0 && y == 0 && (u[l] == 0 || v[m] == 0) && (u[m] == 0 || v[l] == 0):
			continue // a difference of doubles is 0 only when it is exactly 0
		}
		if s := crossExact(a, b, c, d, l, m); s != 0 {
			return s
		}
	}
	return 0
}

// crossExact returns the sign of one coordinate of (b−a)×(d−c).
func crossExact(a, b, c, d geom.Vec, l, m int) int {
	if s, ok := crossWhole(a, b, c, d, l, m); ok {
		return s
	}
	return crossBig(a, b, c, d, l, m)
}

// crossBig is crossExact whatever the numbers.
func crossBig(a, b, c, d geom.Vec, l, m int) int {
	w := integers(a[l], b[l], c[m], d[m], a[m], b[m], c[l], d[l])
	n := &w.n
	for i := 0; i < 8; i += 2 {
		n[i].Sub(&n[i+1], &n[i])
	}
	return n[1].Mul(&n[0], &n[2]).Cmp(n[3].Mul(&n[4], &n[6]))
}

// wholes are up to twelve whole numbers with room for the usual sizes, so that
// one allocation does.
type wholes struct {
	n    [12]big.Int
	room [12][8]big.Word
}

// integers returns the numbers times one common power of two, exactly.
//
// Bare numbers: it serves any quantity.
func integers(xs ...float64) *wholes {
	w := &wholes{}
	lowest := math.MaxInt
	var frac [12]int64
	var exp [12]int
	for i, x := range xs {
		f, e := math.Frexp(x)
		frac[i], exp[i] = int64(f*(1<<53)), e
		if x != 0 {
			lowest = min(lowest, e)
		}
		w.n[i].SetBits(w.room[i][:0])
	}
	for i := range xs {
		w.n[i].SetInt64(frac[i])
		if frac[i] != 0 && exp[i] > lowest {
			w.n[i].Lsh(&w.n[i], uint(exp[i]-lowest))
		}
	}
	return w
}

// sign returns -1, 0 or 1. Bare numbers: it serves any quantity.
func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
