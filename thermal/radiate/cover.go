package radiate

import (
	"slices"

	"aftbay/geom"
	"aftbay/thermal/patch"
)

// cover says how much of a patch lies inside the solids of a set. A solid whose
// surface stays out of the patch's box holds all of the patch or nothing of it,
// so it is asked once; the others are asked where a ray starts.
type cover struct {
	set   *patch.Set
	whole bool      // one solid holds the whole patch
	doubt []int     // solids whose surface comes into the patch's box
	of    []covered // of[k]: triangle k of the patch
}

// covered says how much of a triangle lies inside solids.
type covered uint8

const (
	unasked covered = iota
	clearOf
	partly // each point has to be asked
	wholly
)

// start forgets the last patch and looks which solids are in doubt for this one.
func (c *cover) start(e *emitter, set *patch.Set) {
	c.set, c.whole, c.doubt = set, false, c.doubt[:0]
	c.of = slices.Grow(c.of[:0], len(e.p.Tris))[:len(e.p.Tris)]
	clear(c.of)
	box := e.box()
	for i := range set.Solids {
		s := &set.Solids[i]
		switch {
		case s.Box.GapMM(box) > 0:
		case entersBox(s, &box):
			c.doubt = append(c.doubt, i)
		case insideOne(s, e.lifted(0, 0)):
			c.whole = true
		}
	}
}

// box returns a box around all places where the rays of the patch start.
func (e *emitter) box() geom.Box {
	box := geom.EmptyBox()
	for _, t := range e.p.Tris {
		for _, v := range e.set.Mesh.Tris[t] {
			box = box.Grow(e.set.Mesh.Verts[v])
		}
	}
	pad := geom.Vec{2 * e.offMM, 2 * e.offMM, 2 * e.offMM}
	return geom.Box{Min: box.Min.Sub(pad), Max: box.Max.Add(pad)}
}

// entersBox reports whether a solid's surface may come into a box in the
// vehicle frame: never a false no.
func entersBox(s *patch.Solid, box *geom.Box) bool {
	part := geom.EmptyBox()
	for i := range 8 {
		corner := box.Min
		for k := range 3 {
			if i>>k&1 == 1 {
				corner[k] = box.Max[k]
			}
		}
		part = part.Grow(s.Part.Point(corner))
	}
	enters := false
	s.Tree.InBox(part, func(int) bool {
		enters = true
		return false
	})
	return enters
}

// buries reports whether a ray of the patch that starts at a place on its
// triangle k starts inside a solid.
func (c *cover) buries(e *emitter, k int, origin geom.Vec) bool {
	if c.of[k] == unasked {
		c.of[k] = c.triangle(e, k)
	}
	return c.of[k] == wholly || c.of[k] == partly && c.holds(origin)
}

// cornerWeight puts the tested points of a triangle near its corners.
const cornerWeight = 0.9

// lifted returns a point near a corner of the patch's triangle k, just off its
// surface.
func (e *emitter) lifted(k, corner int) geom.Vec {
	a, b, c := e.set.Mesh.Corners(int(e.p.Tris[k]))
	mid := a.Add(b).Add(c).Mul((1 - cornerWeight) / 3)
	return mid.Add([3]geom.Vec{a, b, c}[corner].Mul(cornerWeight)).Add(e.faces[k].about.normal.Mul(e.offMM))
}

// triangle tells how much of a triangle of the patch lies inside solids, from
// three points just off its surface.
func (c *cover) triangle(e *emitter, k int) covered {
	if c.whole {
		return wholly
	}
	count := 0
	for corner := range 3 {
		if c.holds(e.lifted(k, corner)) {
			count++
		}
	}
	switch count {
	case 0:
		return clearOf
	case 3:
		return wholly
	}
	return partly
}

// holds reports whether a point just off the patch lies inside a solid.
func (c *cover) holds(point geom.Vec) bool {
	if c.whole {
		return true
	}
	for _, i := range c.doubt {
		if insideOne(&c.set.Solids[i], point) {
			return true
		}
	}
	return false
}
