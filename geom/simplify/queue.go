package simplify

import "aftbay/geom"

// wish is an edge that might be collapsed, as it stood when it was queued.
type wish struct {
	costMM4 float64
	to      geom.Vec // where the new corner would stand
	u, v    int32    // u < v
	stampU  int32    // of the corners when queued: a wish with an old stamp is void
	stampV  int32
}

// before orders wishes by cost, ties by corner, so that the order is the same
// whenever the input is.
func (w *wish) before(o *wish) bool {
	switch {
	case w.costMM4 != o.costMM4:
		return w.costMM4 < o.costMM4
	case w.u != o.u:
		return w.u < o.u
	}
	return w.v < o.v
}

// queue is a binary heap, the cheapest wish first.
type queue []wish

func (q *queue) push(w wish) {
	h := append(*q, w)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !h[i].before(&h[up]) {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
	*q = h
}

// pop takes the cheapest wish; the queue must not be empty.
func (q *queue) pop() wish {
	h := *q
	top := h[0]
	last := len(h) - 1
	h[0] = h[last]
	h = h[:last]
	for i := 0; ; {
		kid := 2*i + 1
		if kid >= last {
			break
		}
		if kid+1 < last && h[kid+1].before(&h[kid]) {
			kid++
		}
		if !h[kid].before(&h[i]) {
			break
		}
		h[i], h[kid] = h[kid], h[i]
		i = kid
	}
	*q = h
	return top
}
