package dist

import (
	"math"

	"aftbay/geom"
)

// mostTurns is how many turns of both bodies together a sweep may hold.
const mostTurns = 6

// mix is which motion a point of the difference comes from.
type mix struct {
	shift geom.Vec
	turn  [mostTurns]float64 // Bare numbers: ratio of each turn's largest angle, -1..1
}

// vertex is one corner of the difference of two swept convex sets.
type vertex struct {
	diff geom.Vec
	mix  mix
}

// convexGap is the distance of two convex sets, enclosed from both sides.
type convexGap struct {
	highMM, lowMM float64
	at            mix      // where highMM is reached
	along         geom.Vec // unit direction from the first set to the second, if they are apart
}

const (
	// convexSteps ends the descent; triangles against swept triangles need
	// fewer than twenty.
	convexSteps = 64
	// convexRatio is how near the two bounds must come, against the larger of
	// the gap and the size of the sets: well above double rounding.
	convexRatio = 1e-12
)

// convex returns the least distance of two convex sets given by the corner of
// their difference that lies furthest along a direction. The lower bound is
// certified by a supporting plane in every step.
//
// Method: Gilbert, Johnson and Keerthi, "A fast procedure for computing the
// distance between complex objects", IEEE J. Robotics Automation 4 (1988) 193;
// the nearest point of the simplex is found by trying all its faces.
func convex(furthest func(along geom.Vec) vertex, sizeMM float64) convexGap {
	s := []vertex{furthest(geom.Vec{1, 0, 0})}
	weights := []float64{1}
	g := convexGap{}
	for range convexSteps {
		at := combine(s, weights)
		g.highMM, g.at = at.diff.Len(), at.mix
		g.along = at.diff.Mul(-1 / g.highMM)
		if g.highMM <= convexRatio*sizeMM {
			return convexGap{at: at.mix}
		}
		w := furthest(at.diff.Mul(-1))
		g.lowMM = max(g.lowMM, at.diff.Dot(w.diff)/g.highMM)
		if g.highMM-g.lowMM <= convexRatio*max(sizeMM, g.highMM) || holds(s, w) {
			break
		}
		s, weights = nearestFace(append(s, w))
	}
	g.lowMM = min(g.lowMM, g.highMM)
	return g
}

// holds reports whether the vertex is already in the simplex: no step further
// is possible in double precision.
func holds(s []vertex, w vertex) bool {
	for i := range s {
		if s[i].diff == w.diff {
			return true
		}
	}
	return false
}

// combine returns the weighted sum of the vertices.
func combine(s []vertex, weights []float64) vertex {
	var v vertex
	for i := range s {
		v.diff = v.diff.Add(s[i].diff.Mul(weights[i]))
		v.mix.shift = v.mix.shift.Add(s[i].mix.shift.Mul(weights[i]))
		for k, ratio := range s[i].mix.turn {
			v.mix.turn[k] += ratio * weights[i]
		}
	}
	return v
}

// nearestFace returns the face of the simplex (at most four vertices) that
// holds its nearest point to the origin, and that point's weights.
func nearestFace(s []vertex) ([]vertex, []float64) {
	least := math.Inf(1)
	var face []vertex
	var weights []float64
	for pick := 1; pick < 1<<len(s); pick++ {
		var sub []vertex
		for i := range s {
			if pick>>i&1 == 1 {
				sub = append(sub, s[i])
			}
		}
		w, ok := faceFoot(sub)
		if !ok {
			continue
		}
		if d := combine(sub, w).diff.LenSqr(); d < least {
			least, face, weights = d, sub, w
		}
	}
	return face, weights
}

// faceFoot returns the weights of the point of the vertices' flat that is nearest
// to the origin; ok is false where it lies outside the face, or the vertices
// do not span it.
func faceFoot(s []vertex) (weights []float64, ok bool) {
	n := len(s) - 1
	var m [3][4]float64
	for i := range n {
		e := s[i+1].diff.Sub(s[0].diff)
		for j := range n {
			m[i][j] = e.Dot(s[j+1].diff.Sub(s[0].diff))
		}
		m[i][3] = -e.Dot(s[0].diff)
	}
	x, ok := solve(m, n)
	if !ok {
		return nil, false
	}
	rest := 1.0
	weights = make([]float64, n+1)
	for i := range n {
		weights[i+1] = x[i]
		rest -= x[i]
	}
	weights[0] = rest
	for _, w := range weights {
		if w < 0 {
			return nil, false
		}
	}
	return weights, true
}

// solve returns the solution of an n×n system, n at most 3, its right side in
// column 3; ok is false where it has none.
//
// Bare numbers: products of lengths, and ratios.
func solve(m [3][4]float64, n int) (x [3]float64, ok bool) {
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if m[p][c] == 0 {
			return x, false
		}
		m[c], m[p] = m[p], m[c]
		for r := range n {
			if r == c {
				continue
			}
			f := m[r][c] / m[c][c]
			for k := c; k < 4; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	for i := range n {
		x[i] = m[i][3] / m[i][i]
	}
	return x, true
}
