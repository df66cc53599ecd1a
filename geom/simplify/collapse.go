package simplify

import (
	"context"
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
	// shortFirst is what the length of an edge counts beside its cost, so that
	// flat places, where all costs are 0, are thinned evenly. Chosen freely.
	shortFirst = 1e-3
	// mostAround is the number of facets around a corner that a collapse may not
	// pass, unless one of the two had more: fans are slow and badly shaped.
	mostAround = 24
)

// collapse works the queue off.
func (s *surface) collapse(ctx context.Context) error {
	for t, tri := range s.tris {
		for k, v := range tri {
			if w := tri[(k+1)%3]; s.uses(v, w)[0] == int32(t) { // once an edge
				s.wish(v, w)
			}
		}
	}
	for n := 0; len(s.wishes) > 0; n++ {
		if n%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		w := s.wishes.pop()
		if s.stamp[w.u] != w.stampU || s.stamp[w.v] != w.stampV || !s.mayMerge(w.u, w.v) {
			continue
		}
		if star, ok := s.fits(&w); ok {
			s.merge(&w, star)
		}
	}
	return ctx.Err()
}

// wish queues an edge, unless it must stay or would surely go too far.
func (s *surface) wish(u, v int32) {
	if u > v {
		u, v = v, u
	}
	if s.kept[u] && s.kept[v] {
		return
	}
	q := s.quadrics[u].plus(&s.quadrics[v])
	w := wish{u: u, v: v, stampU: s.stamp[u], stampV: s.stamp[v]}
	w.to = s.place(u, v, &q)
	w.costMM4 = q.atMM4(w.to)
	if w.costMM4 <= q.weightMM2*s.shareMM*s.shareMM {
		w.costMM4 += shortFirst * s.shareMM * s.shareMM * s.pos[u].Sub(s.pos[v]).LenSqr()
		s.wishes.push(w)
	}
}

// place returns where the merged corner should stand.
func (s *surface) place(u, v int32, q *quadric) geom.Vec {
	pu, pv := s.pos[u], s.pos[v]
	switch {
	case s.kept[u] || s.border[u] && !s.border[v]:
		return pu
	case s.kept[v] || s.border[v] && !s.border[u]:
		return pv
	}
	mid := pu.Add(pv).Mul(0.5)
	to := mid
	for _, p := range [2]geom.Vec{pu, pv} {
		if q.atMM4(p) < q.atMM4(to) {
			to = p
		}
	}
	p, ok := q.best(mid)
	if ok && p.Sub(mid).LenSqr() <= 4*pu.Sub(pv).LenSqr() && q.atMM4(p) < q.atMM4(to) {
		to = p
	}
	return to
}

// mayMerge reports whether the surface hangs together as before when the edge is
// collapsed: the corners' common neighbours are those of the facets on the edge
// (the link condition), and no facet would stand twice.
func (s *surface) mayMerge(u, v int32) bool {
	both := s.uses(u, v)
	if len(both) == 0 || len(both) > 2 || s.border[u] && s.border[v] && len(both) == 2 {
		return false
	}
	if s.countShared(u, v) != len(both) {
		return false
	}
	if len(both) == 1 {
		return true
	}
	a, b := s.opposite(both[0], u, v), s.opposite(both[1], u, v)
	return a != b && !(s.hasTri(u, a, b) && s.hasTri(v, a, b))
}

// opposite returns the corner of t that is neither u nor v.
func (s *surface) opposite(t, u, v int32) int32 {
	for _, w := range s.tris[t] {
		if w != u && w != v {
			return w
		}
	}
	return -1
}

// hasTri reports whether a living triangle has these corners.
func (s *surface) hasTri(u, a, b int32) bool {
	for _, t := range s.around[u] {
		if !s.dead[t] && has(s.tris[t], a) && has(s.tris[t], b) {
			return true
		}
	}
	return false
}

// countShared returns how many corners are neighbours of both u and v.
func (s *surface) countShared(u, v int32) (n int) {
	s.marks += 2
	for _, t := range s.around[u] {
		if !s.dead[t] {
			for _, w := range s.tris[t] {
				s.mark[w] = s.marks
			}
		}
	}
	s.mark[u], s.mark[v] = 0, 0
	for _, t := range s.around[v] {
		if s.dead[t] {
			continue
		}
		for _, w := range s.tris[t] {
			if s.mark[w] == s.marks {
				s.mark[w]++
				n++
			}
		}
	}
	return n
}

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
	near := func(p geom.Vec) bool {
		_, ok := s.tree.Nearest(p.Add(s.middle), s.shareMM)
		return ok
	}
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

// inherit finds for each fine place the nearest facet that is left; false when
// one is too far from all.
func (s *surface) inherit(st *star) bool {
	st.heir = make([]int32, len(st.points))
	for i, v := range st.points {
		bestMM2 := math.Inf(1)
		for k := range st.shapes {
			if d := bvh.OnTriangle(s.start[v], &st.shapes[k]).Sub(s.start[v]).LenSqr(); d < bestMM2 {
				bestMM2, st.heir[i] = d, int32(k)
			}
		}
		if bestMM2 > s.shareMM*s.shareMM {
			return false
		}
	}
	return true
}

// merge makes a collapse: v goes into u.
func (s *surface) merge(w *wish, st *star) {
	u, v := w.u, w.v
	for _, t := range st.gone {
		s.dead[t], s.track[t] = true, nil
	}
	for _, t := range st.now {
		s.track[t] = s.track[t][:0]
		for k, c := range s.tris[t] {
			if c == v {
				s.tris[t][k] = u
			}
		}
	}
	for i, p := range st.points {
		t := st.now[st.heir[i]]
		s.track[t] = append(s.track[t], p)
	}
	s.pos[u], s.around[u], s.around[v] = w.to, st.now, nil
	s.quadrics[u] = s.quadrics[u].plus(&s.quadrics[v])
	s.border[u], s.kept[u] = s.border[u] || s.border[v], s.kept[u] || s.kept[v]
	s.stamp[u]++
	s.stamp[v] = -1
	s.marks += 2
	s.mark[u] = s.marks
	for _, t := range st.now {
		for _, c := range s.tris[t] {
			if s.mark[c] != s.marks {
				s.mark[c] = s.marks
				s.wish(u, c)
			}
		}
	}
}
