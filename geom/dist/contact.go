package dist

import (
	"aftbay/geom"
	"aftbay/geom/bvh"
)

// event is one place where an edge of a triangle passes through a triangle of
// the other body.
type event struct {
	tri   int // mesh index of the triangle whose edge passes
	edge  int // 0..2: from corner edge to corner edge+1
	turn  int // +1: runs into the other body there, -1: out of it
	point geom.Vec
}

// cut is the segment that two triangles have in common, directed so that, seen
// against the normal of a's triangle, the inside of b lies to the left.
type cut struct {
	triA, triB int
	from, to   geom.Vec
}

// contact is how two surfaces meet, with b shifted by a vanishing amount so that
// there are no ties. Points are relative to the origin of a's tree.
type contact struct {
	s        *search
	vertsA   placed  // corners of a's mesh
	vertsB   placed  // corners of b's mesh
	eventsA  []event // edges of a through faces of b
	eventsB  []event
	cuts     []cut
	touchedA []int // triangles of a that come within slackMM of b; may repeat
	touchedB []int
	odd      bool // a pair was cut in other than 0 or 2 places: not to be trusted
	watch    watch
	quit     bool

	early *[2]skin // a's and b's, to end at the first point found deep inside
	deep  bool     // one was found
	tried int      // events seen at the last try
}

// meet gathers where the surfaces meet. Cost: the pairs whose bounds touch.
func (s *search) meet(w watch) *contact {
	c := s.newContact(w)
	c.gather()
	return c
}

func (s *search) newContact(w watch) *contact {
	return &contact{s: s, watch: w, vertsA: placed{s.a, geom.Identity(), true}, vertsB: placed{s.b, s.toA, s.toA == geom.Identity()}}
}

func (c *contact) gather() { bvh.Pairs(c.s.a, c.s.b, c.s.toA, c.s.slackMM, c) }

// placed is the corners of a mesh relative to its tree's origin, posed. The same
// corner gives the same bits wherever it is used; each is worked out when asked
// for, as contacts are small.
type placed struct {
	tree  *bvh.Tree
	pose  geom.Pose
	still bool // the pose changes nothing
}

// at returns corner v.
func (p *placed) at(v int32) geom.Vec {
	x := p.tree.Mesh().Verts[v].Sub(p.tree.Origin())
	if p.still {
		return x
	}
	return p.pose.Point(x)
}

// corners returns those of a triangle.
func (p *placed) corners(tri int) bvh.Triangle {
	i := p.tree.Mesh().Tris[tri]
	return bvh.Triangle{p.at(i[0]), p.at(i[1]), p.at(i[2])}
}

// Leaves looks at every pair of two leaves.
func (c *contact) Leaves(p bvh.LeafPair) float64 {
	if c.watch.over() {
		c.quit = true
		return -1
	}
	for j := range p.CountB {
		triB := c.s.b.Tri(p.FirstB + j)
		tb := c.vertsB.corners(triB)
		boxB := boxOf(&tb)
		for i := range p.CountA {
			triA := c.s.a.Tri(p.FirstA + i)
			ta := c.vertsA.corners(triA)
			if boxOf(&ta).GapMM(boxB) > c.s.slackMM {
				continue
			}
			c.touchedA, c.touchedB = append(c.touchedA, triA), append(c.touchedB, triB)
			c.pair(triA, triB, &ta, &tb)
			if c.early != nil && c.digsEarly() {
				return -1
			}
		}
	}
	return c.s.slackMM
}

// digsEarly tries the last events each time their number has doubled, and
// reports whether a point of an edge lies deeper than rounding inside the other
// solid: half way or an eighth of the way to the end that runs into it.
func (c *contact) digsEarly() bool {
	if n := len(c.eventsA) + len(c.eventsB); n < 2*c.tried || n == c.tried {
		return false
	}
	c.tried = len(c.eventsA) + len(c.eventsB)
	for k, events := range [2][]event{c.eventsA, c.eventsB} {
		own, other := &c.early[k], &c.early[1-k]
		if len(events) == 0 || !other.closed {
			continue
		}
		e := events[len(events)-1]
		t := own.corners(e.tri)
		inner := t[e.edge]
		if e.turn > 0 {
			inner = t[(e.edge+1)%3]
		}
		for _, share := range [2]float64{1.0 / 2, 1.0 / 8} {
			if other.side(e.point.Mul(1-share).Add(inner.Mul(share)), c.s.slackMM) > 0 {
				c.deep = true
				return true
			}
		}
	}
	return false
}

// pair records how one pair of triangles cuts.
func (c *contact) pair(triA, triB int, ta, tb *bvh.Triangle) {
	var from, to geom.Vec
	starts, ends := 0, 0
	sa, sb := sides(tb, ta, ofB), sides(ta, tb, ofA)
	for k := range 3 {
		l := (k + 1) % 3
		if turn := enters(ta[k], ta[l], sa[k], sa[l], tb, ofA); turn != 0 {
			e := event{tri: triA, edge: k, turn: turn, point: passage(ta, k, tb)}
			c.eventsA = append(c.eventsA, e)
			if turn > 0 {
				to, ends = e.point, ends+1
			} else {
				from, starts = e.point, starts+1
			}
		}
		if turn := enters(tb[k], tb[l], sb[k], sb[l], ta, ofB); turn != 0 {
			e := event{tri: triB, edge: k, turn: turn, point: passage(tb, k, ta)}
			c.eventsB = append(c.eventsB, e)
			if turn > 0 {
				from, starts = e.point, starts+1
			} else {
				to, ends = e.point, ends+1
			}
		}
	}
	switch {
	case starts == 1 && ends == 1:
		c.cuts = append(c.cuts, cut{triA, triB, from, to})
	case starts+ends > 0:
		c.odd = true
	}
}

// passage returns where edge k of t passes through face f, the same bits for
// either direction of the edge.
func passage(t *bvh.Triangle, k int, f *bvh.Triangle) geom.Vec {
	p, q := t[k], t[(k+1)%3]
	if less(q, p) {
		p, q = q, p
	}
	return throughPlane(p, q, f)
}

func less(p, q geom.Vec) bool {
	for k := range p {
		if p[k] != q[k] {
			return p[k] < q[k]
		}
	}
	return false
}

func boxOf(t *bvh.Triangle) geom.Box {
	b := geom.Box{Min: t[0], Max: t[0]}
	for _, p := range t[1:] {
		for k := range p {
			b.Min[k], b.Max[k] = min(b.Min[k], p[k]), max(b.Max[k], p[k])
		}
	}
	return b
}
