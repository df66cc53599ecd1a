package dist

import (
	"math"

	"aftbay/geom"
)

// vertex is one corner of the difference of two convex sets, a triangle with a
// shift less another triangle.
type vertex struct {
	diff  geom.Vec
	shift geom.Vec
	a, b  int // corners of the triangles
	ends  int // bit k is set for the lower end of shift edge k
}

// convexGap is the distance of two convex sets, enclosed from both sides.
type convexGap struct {
	highMM, lowMM float64
	shift         geom.Vec // where highMM is reached
	along         geom.Vec // unit direction from the first set to the second, if they are apart
	face          simplex  // the corners that highMM hangs on
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
//
// It stops as soon as the lower bound reaches enoughMM.
func convex(furthest func(along geom.Vec) vertex, start geom.Vec, sizeMM, enoughMM float64) convexGap {
	var s simplex
	s.add(furthest(start))
	s.weights[0] = 1
	g := convexGap{}
	for range convexSteps {
		at := s.combine()
		g.highMM, g.shift, g.face = at.diff.Len(), at.shift, s
		g.along = at.diff.Mul(-1 / g.highMM)
		if g.highMM <= convexRatio*sizeMM {
			return convexGap{shift: at.shift}
		}
		w := furthest(at.diff.Mul(-1))
		g.lowMM = max(g.lowMM, at.diff.Dot(w.diff)/g.highMM)
		if g.highMM-g.lowMM <= convexRatio*max(sizeMM, g.highMM) || g.lowMM >= enoughMM || s.holds(w.diff) {
			break
		}
		s.add(w)
		s.nearestFace(convexRatio * sizeMM)
	}
	g.lowMM = min(g.lowMM, g.highMM)
	return g
}

// simplex is up to four vertices with the weights of a point in their hull.
type simplex struct {
	count   int
	at      [4]vertex
	weights [4]float64 // Bare numbers: shares, of sum 1
}

func (s *simplex) add(v vertex) {
	s.at[s.count] = v
	s.count++
}

// holds reports whether the vertex is already in the simplex: no step further
// is possible in double precision.
func (s *simplex) holds(diff geom.Vec) bool {
	for i := range s.count {
		if s.at[i].diff == diff {
			return true
		}
	}
	return false
}

// combine returns the weighted sum of the vertices.
func (s *simplex) combine() vertex {
	var v vertex
	for i := range s.count {
		weight := s.weights[i]
		v.diff = v.diff.Add(s.at[i].diff.Mul(weight))
		v.shift = v.shift.Add(s.at[i].shift.Mul(weight))
	}
	return v
}

// nearestFace shrinks the simplex to its face that holds its nearest point to
// the origin, with that point's weights. All four vertices stay only where they
// hold the origin to within touchMM: a flat tetrahedron can seem to hold it and
// not do so, and then one of its faces is taken.
func (s *simplex) nearestFace(touchMM float64) {
	leastMM2 := math.Inf(1)
	var face, picked [4]int
	var count int
	var weights [4]float64
	for pick := 1; pick < 1<<s.count; pick++ {
		n := 0
		for i := range s.count {
			if pick>>i&1 == 1 {
				picked[n] = i
				n++
			}
		}
		w, ok := s.faceFoot(picked[:n])
		if !ok {
			continue
		}
		var at geom.Vec
		for i, k := range picked[:n] {
			at = at.Add(s.at[k].diff.Mul(w[i]))
		}
		if n == len(s.at) && at.Len() > touchMM {
			continue
		}
		if distMM2 := at.LenSqr(); distMM2 < leastMM2 {
			leastMM2, face, count, weights = distMM2, picked, n, w
		}
	}
	for i := range count {
		s.at[i] = s.at[face[i]] // face rises, so nothing is overwritten too early
	}
	s.count, s.weights = count, weights
}

// faceFoot returns the weights of the point of the picked vertices' flat that is
// nearest to the origin; ok is false where it lies outside the face, or the
// vertices do not span it.
func (s *simplex) faceFoot(picked []int) (weights [4]float64, ok bool) {
	n := len(picked) - 1
	first := s.at[picked[0]].diff
	var edge [3]geom.Vec
	for i := range n {
		edge[i] = s.at[picked[i+1]].diff.Sub(first)
	}
	var m [3][4]float64
	for i := range n {
		for j := range n {
			m[i][j] = edge[i].Dot(edge[j])
		}
		m[i][3] = -edge[i].Dot(first)
	}
	x, ok := solve(m, n)
	if !ok {
		return weights, false
	}
	weights[0] = 1
	for i := range n {
		weights[i+1] = x[i]
		weights[0] -= x[i]
	}
	for _, w := range weights[:n+1] {
		if w < 0 {
			return weights, false
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
