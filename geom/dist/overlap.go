package dist

import (
	"cmp"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// meets decides for surfaces that come within s.slackMM of each other whether
// they overlap or only touch, and returns the contact where it was needed; with
// early that may be a part of it, ended by the first point found deep inside.
//
// Two sheets overlap where they cross; see sheetsCross. Otherwise they overlap
// when some point of one lies deeper than rounding inside the other solid. Tried
// in turn: some points in the core of each solid; the stretches of edges between the places where they pass through the
// other surface; corners and middles of the triangles that touch; one corner off
// the surface for each connected body; at last, for two solids, whether the
// shared volume is more than the touching area times rounding, which also finds
// bodies that coincide.
func (s *search) meets(a, b Body, early bool, w watch) (bool, *contact) {
	if !a.Closed && !b.Closed {
		return s.sheetsCross(), nil
	}
	if a.Closed && b.Closed && (a.coreIn(b, s.slackMM) || b.coreIn(a, s.slackMM)) {
		return true, nil
	}
	c := s.newContact(w)
	ka, kb := s.skins(c, a, b)
	if early {
		c.early = &[2]skin{ka, kb}
	}
	c.gather()
	if c.quit || c.deep {
		return c.deep, c
	}
	if kb.closed && c.digs(&ka, &kb, c.eventsA, c.touchedA) || ka.closed && c.digs(&kb, &ka, c.eventsB, c.touchedB) {
		return true, c
	}
	if !ka.closed || !kb.closed {
		return false, c
	}
	v := c.share(&ka, &kb)
	// Neither a line of contact, rounded to a strip, nor a face, rounded to a film.
	sizeMM := min(a.Tree.Box().DiagonalMM(), b.Tree.Box().DiagonalMM())
	return v.ok && v.areaMM2 > s.slackMM*sizeMM && v.volumeMM3 > s.slackMM*v.areaMM2, c
}

// digs reports whether a sampled point of the surface k lies deeper than
// rounding inside the solid in.
func (c *contact) digs(k, in *skin, events []event, touched []int) bool {
	deep := func(p geom.Vec) bool { return in.side(p, c.s.slackMM) > 0 }
	if c.edgesDig(k, events, deep) {
		return true
	}
	touched = slices.Clone(touched)
	slices.Sort(touched)
	for _, tri := range slices.Compact(touched) {
		t := k.corners(tri)
		for _, p := range [4]geom.Vec{t[0], t[1], t[2], t[0].Add(t[1]).Add(t[2]).Mul(1.0 / 3)} {
			if deep(p) {
				return true
			}
		}
	}
	return c.shellsDig(k, in)
}

// edgesDig samples the middles of the stretches into which events cut edges.
func (c *contact) edgesDig(k *skin, events []event, deep func(p geom.Vec) bool) bool {
	events = k.inOrder(events)
	for i, e := range events {
		t := k.corners(e.tri)
		before, after := t[e.edge], t[(e.edge+1)%3]
		if i > 0 && events[i-1].tri == e.tri && events[i-1].edge == e.edge {
			before = events[i-1].point
		}
		if i+1 < len(events) && events[i+1].tri == e.tri && events[i+1].edge == e.edge {
			after = events[i+1].point
		}
		if deep(before.Add(e.point).Mul(0.5)) || deep(after.Add(e.point).Mul(0.5)) {
			return true
		}
	}
	return false
}

// inOrder returns the events by triangle, edge and place along the edge.
func (k *skin) inOrder(events []event) []event {
	along := func(e event) float64 {
		t := k.corners(e.tri)
		return e.point.Sub(t[e.edge]).LenSqr()
	}
	events = slices.Clone(events)
	slices.SortStableFunc(events, func(x, y event) int {
		return cmp.Or(cmp.Compare(x.tri, y.tri), cmp.Compare(x.edge, y.edge), cmp.Compare(along(x), along(y)))
	})
	return events
}

// shellsDig looks, for each connected body of k, at the first corner that is not
// on the other surface.
func (c *contact) shellsDig(k, in *skin) bool {
	shells := k.tree.Shells()
	decided, left := make([]bool, len(shells)), len(shells)
	for tri := 0; tri < k.tree.Len() && left > 0; tri++ {
		shell := k.tree.ShellOf(tri)
		if decided[shell] {
			continue
		}
		for _, p := range k.corners(tri) {
			side := in.side(p, c.s.slackMM)
			if side > 0 {
				return true
			}
			if side < 0 {
				decided[shell] = true
				left--
				break
			}
		}
	}
	return false
}

// sheetsCross reports whether two open surfaces pass through each other: they
// still do after every one of eight small shifts, so it is no mere contact.
func (s *search) sheetsCross() bool {
	for i := range 8 {
		// Numbers chosen freely, so that no shift runs along a made-up edge.
		by := geom.Vec{0.61, 0.53, 0.59}.Mul(8 * s.slackMM)
		for k := range 3 {
			if i>>k&1 == 1 {
				by[k] = -by[k]
			}
		}
		to := s.toA
		to.T = to.T.Add(by)
		v := &piercing{a: s.a, b: s.b, toA: to, slackMM: s.slackMM}
		bvh.Pairs(s.a, s.b, to, s.slackMM, v)
		if !v.found {
			return false
		}
	}
	return true
}

// piercing looks for an edge that passes through a triangle.
type piercing struct {
	a, b    *bvh.Tree
	toA     geom.Pose
	slackMM float64
	found   bool
}

// Leaves looks at every pair of two leaves.
func (v *piercing) Leaves(p bvh.LeafPair) float64 {
	for j := range p.CountB {
		var tb bvh.Triangle
		for k, c := range v.b.Slot(p.FirstB + j) {
			tb[k] = v.toA.Point(c)
		}
		for i := range p.CountA {
			ta := v.a.Slot(p.FirstA + i)
			for k := range 3 {
				if passes(ta[k], ta[(k+1)%3], &tb) || passes(tb[k], tb[(k+1)%3], ta) {
					v.found = true
					return -1
				}
			}
		}
	}
	return v.slackMM
}
