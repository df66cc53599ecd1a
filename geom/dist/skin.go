package dist

import (
	"aftbay/geom"
	"aftbay/geom/bvh"
)

// skin is one of the two bodies as the other sees it. Points are relative to
// the origin of a's tree.
type skin struct {
	tree   *bvh.Tree
	verts  placed    // its corners
	fromA  geom.Pose // to the part frame of tree
	own    owner
	closed bool
}

// skins returns both bodies of a search.
func (s *search) skins(c *contact, a, b Body) (skin, skin) {
	toPart := geom.Shift(s.b.Origin()).After(s.toA.Inverse())
	return skin{tree: s.a, verts: c.vertsA, fromA: geom.Shift(s.a.Origin()), own: ofA, closed: a.Closed},
		skin{tree: s.b, verts: c.vertsB, fromA: toPart, own: ofB, closed: b.Closed}
}

func (k *skin) corners(tri int) bvh.Triangle { return k.verts.corners(tri) }

// side returns +1 when p lies inside the solid, -1 outside, 0 within slackMM of
// its surface.
func (k *skin) side(p geom.Vec, slackMM float64) int {
	return sideIn(k.tree, k.fromA.Point(p), slackMM)
}

// back returns a part point relative to the origin of a's tree.
func (k *skin) back(part geom.Vec) geom.Vec { return k.fromA.Inverse().Point(part) }

// place returns a point relative to this tree's origin, relative to a's.
func (k *skin) place(local geom.Vec) geom.Vec { return k.back(local.Add(k.tree.Origin())) }

// turns returns how many times the solid winds around the point p of the other
// body, with the vanishing shift of sos.go, so that p may lie on the surface.
// Cost: one test per triangle when p lies in the box.
func (k *skin) turns(p geom.Vec) int {
	box := geom.EmptyBox()
	for v := range k.tree.Mesh().Verts {
		box = box.Grow(k.verts.at(int32(v)))
	}
	if !within(box, p) {
		return 0
	}
	size := box.DiagonalMM() + 1 // far is any point surely outside
	far := box.Max.Add(geom.Vec{0.37 * size, 0.51 * size, 0.29 * size})
	sum := 0
	for tri := range k.tree.Len() {
		t := k.corners(tri)
		sum -= enters(p, far, sideOf(&t, p, k.own), sideOf(&t, far, k.own), &t, -k.own)
	}
	return sum
}
