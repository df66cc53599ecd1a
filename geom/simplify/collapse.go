package simplify

import (
	"context"

	"aftbay/geom"
)

// shortFirst is what the length of an edge counts beside its cost, so that flat
// places, where all costs are 0, are thinned evenly. Chosen freely.
const shortFirst = 1e-3

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
