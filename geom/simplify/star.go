package simplify

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

const (
	// leastTurn is the least cosine between a facet's normal before and after a
	// collapse. Common practice, no source.
	leastTurn = 0.2
	// leastShape is the height of a facet over its longest side below which it
	// may not fall, unless the facets there were no better. Common practice.
	leastShape = 1e-3
	// mostAround is the number of facets around a corner that a collapse may not
	// pass, unless one of the two had more: fans are slow and badly shaped.
	mostAround = 24
)

// star is what a collapse makes of the facets around an edge.
type star struct {
	now    []int32        // facets that go on, with one corner moved
	shapes []bvh.Triangle // shapes[i]: of now[i], after
	gone   []int32
	points []int32 // fine places that the facets stood in for
	heir   []int32 // heir[i]: place in now of the facet that takes points[i]
}

// fits tries a collapse: no facet turned or needle-thin, every fine place within
// reach of a facet that is left.
func (s *surface) fits(w *wish) (*star, bool) {
	st := &star{}
	for _, c := range [2]int32{w.u, w.v} {
		for _, t := range s.around[c] {
			switch {
			case s.dead[t]:
				continue
			case !has(s.tris[t], w.u) || !has(s.tris[t], w.v):
				before := s.corners(t)
				after := bvh.Triangle(before)
				for k, v := range s.tris[t] {
					if v == c {
						after[k] = w.to
					}
				}
				if !wellShaped(before, after) {
					return nil, false
				}
				st.now, st.shapes = append(st.now, t), append(st.shapes, after)
			case c == w.u:
				st.gone = append(st.gone, t)
			default:
				continue // counted at u
			}
			st.points = append(st.points, s.track[t]...)
		}
	}
	if len(st.now) > max(mostAround, len(s.around[w.u]), len(s.around[w.v])) {
		return nil, false
	}
	return st, len(st.now) > 0 && s.staysNear(w.to, st) && s.inherit(st)
}

// staysNear reports whether the new corner and the middles of the new facets and
// their edges lie near the fine mesh.
func (s *surface) staysNear(to geom.Vec, st *star) bool {
	near := func(p geom.Vec) bool { return s.tree.Within(p.Add(s.middle), s.shareMM) }
	if !near(to) {
		return false
	}
	for i := range st.shapes {
		p := &st.shapes[i]
		if !near(p[0].Add(p[1]).Add(p[2]).Mul(1.0 / 3)) {
			return false
		}
		for k, q := range p {
			if q != to && !near(q.Add(to).Mul(0.5)) || q == to && !near(p[(k+1)%3].Add(p[(k+2)%3]).Mul(0.5)) {
				return false
			}
		}
	}
	return true
}

// wellShaped reports whether a facet is neither turned nor made a needle.
func wellShaped(before, after [3]geom.Vec) bool {
	n, m := areaVec(before), areaVec(after)
	if !(n.Dot(m) > leastTurn*n.Len()*m.Len()) {
		return false
	}
	return m.Len() > min(leastShape*longestMM2(after), n.Len()/longestMM2(before)*longestMM2(after))/2
}

func longestMM2(p [3]geom.Vec) float64 {
	return max(p[1].Sub(p[0]).LenSqr(), p[2].Sub(p[1]).LenSqr(), p[0].Sub(p[2]).LenSqr())
}

// inherit finds for each fine place a facet that is left and within reach: one it
// lies straight above if there is any, else the nearest; false when one is too far
// from all.
func (s *surface) inherit(st *star) bool {
	st.heir = make([]int32, len(st.points))
	prisms := make([]prism, len(st.shapes))
	for k := range st.shapes {
		prisms[k] = prismOf(&st.shapes[k])
	}
	for i, v := range st.points {
		p := s.start[v]
		st.heir[i] = -1
		for k := range prisms {
			if prisms[k].holds(p, s.shareMM) {
				st.heir[i] = int32(k)
				break
			}
		}
		if st.heir[i] < 0 && !s.nearest(st, i, p) {
			return false
		}
	}
	return true
}

// nearest gives place i to the nearest facet, if that is near enough.
func (s *surface) nearest(st *star, i int, p geom.Vec) bool {
	bestMM2 := math.Inf(1)
	for k := range st.shapes {
		if d := bvh.OnTriangle(p, &st.shapes[k]).Sub(p).LenSqr(); d < bestMM2 {
			bestMM2, st.heir[i] = d, int32(k)
		}
	}
	return bestMM2 <= s.shareMM*s.shareMM
}

// prism is what stands straight above and below a triangle.
type prism struct {
	sides [3]geom.Vec // normals of the sides, inward
	from  [3]float64  // Bare numbers: where each side stands along its normal
	up    geom.Vec    // unit normal; zero for a triangle without area
	upMM  float64     // where the triangle stands along up
}

func prismOf(t *bvh.Triangle) (p prism) {
	n := areaVec(*t)
	if length := n.Len(); length > 0 {
		p.up = n.Mul(1 / length)
	}
	p.upMM = p.up.Dot(t[0])
	for k := range 3 {
		p.sides[k] = p.up.Cross(t[(k+1)%3].Sub(t[k]))
		p.from[k] = p.sides[k].Dot(t[k])
	}
	return p
}

// holds reports whether at lies in the prism, no further than reachMM from the
// triangle.
func (p *prism) holds(at geom.Vec, reachMM float64) bool {
	for k := range p.sides {
		if d := &p.sides[k]; d[0]*at[0]+d[1]*at[1]+d[2]*at[2] < p.from[k] {
			return false
		}
	}
	return p.up != geom.Vec{} && math.Abs(p.up.Dot(at)-p.upMM) <= reachMM
}
