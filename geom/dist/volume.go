package dist

import (
	"math"

	"aftbay/geom"
)

// shared is what two solids have in common.
type shared struct {
	volumeMM3 float64
	areaMM2   float64 // surface of either inside the other
	ok        bool    // false: the meshes are not simple closed ones, no number
}

// share returns the shared volume of two solids.
//
// Method: divergence theorem over the surface of the common part, triangle by
// triangle. What of a triangle lies inside the other solid is never built: its
// area is a sum over its own edges (weighted with how often the other solid
// winds around them) and over the cuts, by Green's theorem. Signs are exact with
// the vanishing shift of sos.go, so the sums close whatever coincides; only the
// cut points are rounded. Error: rounding times the area, some 1e-13 relative
// for parts of like size.
//
// It is not ok when a solid winds around some corner more than once or when the
// windings contradict each other: overlapping bodies in one file, bad borders.
func (c *contact) share(ka, kb *skin) shared {
	if c.odd {
		return shared{}
	}
	wa, okA := windings(ka, kb, c.eventsA, c.s.slackMM)
	wb, okB := windings(kb, ka, c.eventsB, c.s.slackMM)
	if !okA || !okB {
		return shared{}
	}
	outlineA, outlineB := map[int]geom.Vec{}, map[int]geom.Vec{}
	addEvents(ka, c.eventsA, outlineA)
	addEvents(kb, c.eventsB, outlineB)
	for _, x := range c.cuts {
		oa, ob := ka.corners(x.triA)[0], kb.corners(x.triB)[0]
		outlineA[x.triA] = outlineA[x.triA].Add(x.from.Sub(oa).Cross(x.to.Sub(oa)))
		outlineB[x.triB] = outlineB[x.triB].Sub(x.from.Sub(ob).Cross(x.to.Sub(ob)))
	}
	ref := geom.Vec{} // a point amid the common part keeps the sums small
	if len(c.cuts) > 0 {
		ref = c.cuts[0].from
	}
	va, areaA := flux(ka, wa, outlineA, ref)
	vb, areaB := flux(kb, wb, outlineB, ref)
	return shared{volumeMM3: math.Abs(va + vb), areaMM2: areaA + areaB, ok: true}
}

// addEvents adds to each triangle's outline (twice its area vector inside the
// other solid, about its first corner) what its edges add from each event on.
func addEvents(k *skin, events []event, outline map[int]geom.Vec) {
	for _, e := range events {
		t := k.corners(e.tri)
		end := t[(e.edge+1)%3].Sub(t[0])
		piece := e.point.Sub(t[0]).Cross(end)
		outline[e.tri] = outline[e.tri].Add(piece.Mul(float64(e.turn)))
	}
}

// flux returns a third of the flux of x−ref through what of k lies inside the
// other solid (mm3), and its area.
func flux(k *skin, wind []int, outline map[int]geom.Vec, ref geom.Vec) (fluxMM3, areaMM2 float64) {
	for tri, v := range k.tree.Mesh().Tris {
		extra, cut := outline[tri]
		if !cut && wind[v[0]] == 0 {
			continue
		}
		t := k.corners(tri)
		normal := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
		length := normal.Len()
		if length == 0 {
			continue
		}
		normal = normal.Mul(1 / length)
		// Edges from the first corner add nothing about it; the opposite one does.
		twice := float64(wind[v[1]])*length + extra.Dot(normal)
		fluxMM3 += twice / 2 * t[0].Sub(ref).Dot(normal) / 3
		areaMM2 += math.Abs(twice) / 2
	}
	return fluxMM3, areaMM2
}

// windings returns how often the other solid winds around each corner of k. One
// corner of each body is counted, the others follow along the edges: every event
// changes the number by one. Not ok when two ways disagree or a number other
// than 0 and a single 1 or -1 occurs.
func windings(k, other *skin, events []event, slackMM float64) (wind []int, ok bool) {
	tris := k.tree.Mesh().Tris
	steps := make(map[[2]int]int, len(events)) // by triangle and edge
	cut := make([]bool, len(tris))
	for _, e := range events {
		steps[[2]int{e.tri, e.edge}] += e.turn
		cut[e.tri] = true
	}
	f := newForest(len(k.tree.Mesh().Verts))
	for tri, v := range tris {
		for e := range 3 {
			step := 0
			if cut[tri] {
				step = steps[[2]int{tri, e}]
			}
			if !f.join(v[e], v[(e+1)%3], step) {
				return nil, false
			}
		}
	}
	wind = make([]int, len(k.tree.Mesh().Verts))
	base := map[int32]int{} // base[root]
	lowest, highest := 0, 0
	last, lastRoot := 0, int32(-1)
	for tri := range tris {
		for _, v := range tris[tri] {
			root, step := f.find(v)
			w := last
			if root != lastRoot { // mostly the same as before
				var seen bool
				if w, seen = base[root]; !seen {
					w = other.turns(k.verts.at(root))
					base[root] = w
				}
				last, lastRoot = w, root
			}
			wind[v] = w + step
			lowest, highest = min(lowest, wind[v]), max(highest, wind[v])
		}
	}
	return wind, highest-lowest <= 1 && k.simpleEdges(other, wind, events, slackMM)
}

// simpleEdges reports whether the winding of the other solid along every edge
// stays 0 or a single 1 or -1. An edge that lies in a face of the other solid, to
// within rounding, meets that face's events in any order, so a suspect stretch
// is judged by the winding around its middle, if that is off the surface.
func (k *skin) simpleEdges(other *skin, wind []int, events []event, slackMM float64) bool {
	tris := k.tree.Mesh().Tris
	events = k.inOrder(events)
	w := 0
	for i, e := range events {
		if i == 0 || events[i-1].tri != e.tri || events[i-1].edge != e.edge {
			w = wind[tris[e.tri][e.edge]]
		}
		w += e.turn
		if w >= -1 && w <= 1 || i+1 == len(events) {
			continue
		}
		mid := other.fromA.Point(e.point.Add(events[i+1].point).Mul(0.5))
		if _, on := other.tree.Nearest(mid, slackMM); on {
			continue
		}
		if turns := winding(other.tree, mid); turns < -1 || turns > 1 {
			return false
		}
	}
	return true
}

// forest joins corners whose windings differ by known steps.
type forest struct {
	up   []int32 // up[v]: parent
	step []int   // step[v]: winding of v less that of its parent
}

func newForest(n int) *forest {
	f := &forest{up: make([]int32, n), step: make([]int, n)}
	for v := range f.up {
		f.up[v] = int32(v)
	}
	return f
}

// find returns the root of v and the winding of v less that of the root.
func (f *forest) find(v int32) (root int32, step int) {
	for f.up[v] != v {
		if p := f.up[v]; f.up[p] != p {
			f.step[v] += f.step[p]
			f.up[v] = f.up[p]
		}
		step += f.step[v]
		v = f.up[v]
	}
	return v, step
}

// join notes that q's winding is p's plus step; false when that contradicts.
func (f *forest) join(p, q int32, step int) bool {
	rp, sp := f.find(p)
	rq, sq := f.find(q)
	if rp == rq {
		return sp+step == sq
	}
	f.up[rq], f.step[rq] = rp, sp+step-sq
	return true
}
