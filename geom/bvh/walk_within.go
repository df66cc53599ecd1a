package bvh

import "aftbay/geom"

// Within reports whether the mesh comes closer than withinMM to p. It is Nearest
// that is content with the first triangle near enough.
func (t *Tree) Within(p geom.Vec, withinMM float64) bool {
	p = p.Sub(t.origin)
	reachMM2 := withinMM * withinMM
	var w pointWalk
	for w.start(t, p); ; {
		first, count := w.next(withinMM)
		if count == 0 {
			return false
		}
		for i := first; i < first+count; i++ {
			if OnTriangle(p, &t.slots[i]).Sub(p).LenSqr() < reachMM2 {
				return true
			}
		}
	}
}
