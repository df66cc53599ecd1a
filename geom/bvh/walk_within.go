package bvh

import "aftbay/geom"

// Within reports whether the mesh comes closer than withinMM to p. It is Nearest
// that is content with the first triangle near enough.
func (t *Tree) Within(p geom.Vec, withinMM float64) bool {
	if len(t.slots) == 0 {
		return false
	}
	p = p.Sub(t.origin)
	reachMM2 := withinMM * withinMM
	var stack [maxDepth + 2]aside
	stack[0] = aside{0, t.nodes[0].gapMM2(p)}
	for top := 1; top > 0; {
		top--
		if stack[top].gapMM2 >= reachMM2 || t.turned[stack[top].node].gapMM2(p) >= reachMM2 {
			continue
		}
		n := &t.nodes[stack[top].node]
		if n.count == 0 {
			l, r := aside{n.at, t.nodes[n.at].gapMM2(p)}, aside{n.at + 1, t.nodes[n.at+1].gapMM2(p)}
			if l.gapMM2 < r.gapMM2 || l.gapMM2 == r.gapMM2 && t.nodes[n.at].midMM2(p) < t.nodes[n.at+1].midMM2(p) {
				l, r = r, l
			}
			stack[top], stack[top+1] = l, r
			top += 2
			continue
		}
		for i := n.at; i < n.at+n.count; i++ {
			if OnTriangle(p, &t.slots[i]).Sub(p).LenSqr() < reachMM2 {
				return true
			}
		}
	}
	return false
}

// midMM2 returns the squared distance from p of the middle of the box.
func (n *node) midMM2(p geom.Vec) float64 {
	var sum float64
	for k := range 3 {
		d := 0.5*(float64(n.lo[k])+float64(n.hi[k])) - p[k]
		sum += d * d
	}
	return sum
}
