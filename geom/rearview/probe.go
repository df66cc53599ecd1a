package rearview

import (
	"cmp"
	"slices"
)

// span is a piece of a line of the picture that is seen. Bare numbers: places
// in the picture.
type span struct{ from, to float64 }

// ruler is an upright or level line of the picture: along tells where an edge
// crosses it. Bare numbers: places in the picture.
type ruler struct {
	upright bool
	at      float64
	inward  float64 // a level line counts what lies just on this side of it: +1 greater b, -1 lesser b
}

// crossing is where an edge crosses a ruler, and how the winding of its layer
// changes toward greater values. Bare numbers: places in the picture.
type crossing struct {
	place float64
	layer int
	wind  int32
}

// cross adds where edges of a layer cross the ruler.
func (r ruler) cross(out []crossing, edges []edge, layer int) []crossing {
	for _, e := range edges {
		p, q, wind := e.from, e.to, e.wind
		if !r.upright {
			p, q, wind = dot{p.b, p.a}, dot{q.b, q.a}, -wind
		}
		if p.a > q.a {
			p, q, wind = q, p, -wind
		}
		// Half-open, so that a corner on the ruler counts once.
		if r.inward >= 0 && (p.a > r.at || q.a <= r.at) || r.inward < 0 && (p.a >= r.at || q.a < r.at) {
			continue
		}
		out = append(out, crossing{p.b + (q.b-p.b)*((r.at-p.a)/(q.a-p.a)), layer, wind})
	}
	return out
}

// seen returns the spans of a ruler that an eye sees, in order.
func (st *study) seen(k int, r ruler, shadows []shadow) []span {
	const inMirror, inGlass, blocked = 0, 1, 2
	e := &st.sight.eyes[k]
	all := r.cross(nil, around(e.mirror), inMirror)
	if len(e.glass) > 2 {
		all = r.cross(all, around(e.glass), inGlass)
	}
	for j := range shadows {
		all = r.cross(all, shadows[j].edges[k], blocked+j)
	}
	slices.SortStableFunc(all, func(x, y crossing) int { return cmp.Compare(x.place, y.place) })
	wind := make([]int32, blocked+len(shadows))
	blocks := 0
	var out []span
	for i, c := range all {
		was := wind[c.layer]
		wind[c.layer] += c.wind
		if c.layer >= blocked {
			blocks += ones(wind[c.layer] != 0) - ones(was != 0)
		}
		sees := wind[inMirror] != 0 && (len(st.sight.glass) == 0 || wind[inGlass] != 0) && blocks == 0
		if !sees || i+1 == len(all) || all[i+1].place <= c.place {
			continue
		}
		if n := len(out); n > 0 && out[n-1].to == c.place {
			out[n-1].to = all[i+1].place
			continue
		}
		out = append(out, span{c.place, all[i+1].place})
	}
	return out
}

// union returns the spans that lie in any of two lists.
func union(x, y []span) []span {
	all := slices.Concat(x, y)
	slices.SortFunc(all, func(p, q span) int { return cmp.Compare(p.from, q.from) })
	var out []span
	for _, s := range all {
		if n := len(out); n > 0 && s.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

// both returns the spans that lie in both of two lists.
func both(x, y []span) []span {
	var out []span
	for _, p := range x {
		for _, q := range y {
			if from, to := max(p.from, q.from), min(p.to, q.to); from < to {
				out = append(out, span{from, to})
			}
		}
	}
	return out
}

// length sums spans. Bare numbers: of the picture.
func length(spans []span) float64 {
	var sum float64
	for _, s := range spans {
		sum += s.to - s.from
	}
	return sum
}

// within cuts spans to those in [lo, hi]. Bare numbers: places in the picture.
func within(spans []span, lo, hi float64) []span {
	return both(spans, []span{{lo, hi}})
}
