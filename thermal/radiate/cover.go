package radiate

import (
	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// cover says which rays of a patch start inside the solids of a set. A solid whose
// surface stays out of the patch's box holds all of the patch or nothing of it,
// so it is asked once. Of the others a ray itself tells most: its way is free of
// surfaces, so that where it ends outside a solid's box it starts outside that
// solid.
type cover struct {
	set   *patch.Set
	whole bool  // one solid holds the whole patch
	doubt []int // solids whose surface comes into the patch's box
}

// start forgets the last patch and looks which solids are in doubt for this one.
func (c *cover) start(e *emitter, set *patch.Set) {
	c.set, c.whole, c.doubt = set, false, c.doubt[:0]
	box := e.box()
	for i := range set.Solids {
		s := &set.Solids[i]
		switch {
		case s.Box.GapMM(box) > 0:
		case entersBox(s, &box):
			c.doubt = append(c.doubt, i)
		default:
			place := e.faces[0].somewhere()
			c.whole = c.whole || insideOne(s, &place)
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

// somewhere returns a place where rays may start.
func (f *face) somewhere() geom.Vec {
	return f.corner.Add(f.sides[0].Mul(1.0 / 3)).Add(f.sides[1].Mul(1.0 / 3))
}

// buries reports whether a ray with a direction of unit length, which meets
// nothing up to endMM, starts inside a solid.
func (c *cover) buries(r *bvh.Ray, endMM, clearMM float64) bool {
	if c.whole {
		return true
	}
	var end geom.Vec
	for k := range end {
		end[k] = r.Origin[k] + r.Dir[k]*endMM
	}
	for _, i := range c.doubt {
		if s := &c.set.Solids[i]; !outside(&s.Box, &end, clearMM) && insideOne(s, &r.Origin) {
			return true
		}
	}
	return false
}

// outside reports whether a point lies outside a box by more than a distance.
func outside(b *geom.Box, p *geom.Vec, byMM float64) bool {
	return b.Min[0]-p[0] > byMM || p[0]-b.Max[0] > byMM || b.Min[1]-p[1] > byMM || p[1]-b.Max[1] > byMM || b.Min[2]-p[2] > byMM || p[2]-b.Max[2] > byMM
}
