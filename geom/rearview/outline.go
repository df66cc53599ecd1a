package rearview

import (
	"cmp"
	"slices"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// edge is a directed line of an outline in the picture. Left of it lies one
// more layer of what it bounds, wind times.
type edge struct {
	from, to dot
	wind     int32
}

// thrower casts the outlines of meshes and keeps its working memory.
type thrower struct {
	dots  []dot
	fails []uint8 // fails[i]: bit per keep that vertex i does not pass
	sides []uint64
	signs []int8
	order []int
}

// outline returns the edges around the shadow of a mesh, which fits a box of its
// own frame, in its pose: at a place
// in one of the windows, the winding of all edges is the number of triangles
// that hide it, and so positive exactly there. Edges that two triangles share
// with opposite sense cancel, which leaves the silhouette and the rims. Places
// outside the windows are not told correctly.
func (t *thrower) outline(m *mesh.Mesh, box geom.Box, pose geom.Pose, c *caster, windows []pane) []edge {
	if box.IsEmpty() {
		return nil
	}
	local := c.behind(pose)
	if !local.mayMeet(box, windows) {
		return nil
	}
	t.dots = slices.Grow(t.dots[:0], len(m.Verts))[:len(m.Verts)]
	t.fails = slices.Grow(t.fails[:0], len(m.Verts))[:len(m.Verts)]
	for i, v := range m.Verts {
		if t.fails[i] = local.fails(v); t.fails[i] == 0 {
			t.dots[i] = local.lens.see(v)
		}
	}
	t.sides, t.signs = t.sides[:0], t.signs[:0]
	var out []edge
	for k, tri := range m.Tris {
		i, j, l := tri[0], tri[1], tri[2]
		f, g, h := t.fails[i], t.fails[j], t.fails[l]
		switch {
		case f|g|h == 0:
			t.add(i, j, l, windows)
		case f&g&h == 0: // part of it may pass all keeps
			p, q, r := m.Corners(k)
			out = appendPolygon(out, local.throw([]geom.Vec{p, q, r}), windows)
		}
	}
	return t.rest(out)
}

// mayMeet reports whether anything in a box can fall into one of the windows.
func (c *caster) mayMeet(b geom.Box, windows []pane) bool {
	corners := b.Corners()
	whole := true
	for i := range c.keep {
		out := 0
		for _, p := range corners {
			if c.keep[i].at(p) < 0 {
				out++
			}
		}
		if out == len(corners) {
			return false
		}
		whole = whole && out == 0
	}
	if !whole {
		return true
	}
	r := emptyPane()
	for _, p := range corners {
		r = r.grow(c.lens.see(p))
	}
	return meetsAny(r, windows)
}

func meetsAny(r pane, windows []pane) bool {
	for _, w := range windows {
		if r.meets(w) {
			return true
		}
	}
	return false
}

// turn returns twice the area of a triangle, positive where it runs
// counter-clockwise in the picture.
func turn(p, q, r dot) float64 { return (q.a-p.a)*(r.b-p.b) - (q.b-p.b)*(r.a-p.a) }

// add notes the three sides of a triangle that meets a window, so that its
// inside lies to their left.
func (t *thrower) add(i, j, l int32, windows []pane) {
	p, q, r := t.dots[i], t.dots[j], t.dots[l]
	if !meetsAny(paneOf([]dot{p, q, r}), windows) {
		return
	}
	if turn(p, q, r) < 0 {
		j, l = l, j
	}
	for _, s := range [3][2]int32{{i, j}, {j, l}, {l, i}} {
		sign := int8(1)
		if s[0] > s[1] {
			s[0], s[1], sign = s[1], s[0], -1
		}
		t.sides = append(t.sides, uint64(s[0])<<32|uint64(s[1]))
		t.signs = append(t.signs, sign)
	}
}

// rest adds the sides that did not cancel.
func (t *thrower) rest(out []edge) []edge {
	t.order = t.order[:0]
	for k := range t.sides {
		t.order = append(t.order, k)
	}
	slices.SortFunc(t.order, func(x, y int) int { return cmp.Compare(t.sides[x], t.sides[y]) })
	for k := 0; k < len(t.order); {
		side, wind := t.sides[t.order[k]], int32(0)
		for ; k < len(t.order) && t.sides[t.order[k]] == side; k++ {
			wind += int32(t.signs[t.order[k]])
		}
		if wind != 0 {
			out = append(out, edge{t.dots[side>>32], t.dots[side&(1<<32-1)], wind})
		}
	}
	return out
}

// throw clips a convex polygon and returns its place in the picture.
func (c *caster) throw(poly []geom.Vec) []dot {
	var out []dot
	for _, p := range c.clip(poly) {
		out = append(out, c.lens.see(p))
	}
	return out
}

// appendPolygon adds the sides of a convex polygon that meets a window.
func appendPolygon(out []edge, poly []dot, windows []pane) []edge {
	if len(poly) < 3 || !meetsAny(paneOf(poly), windows) {
		return out
	}
	wind := int32(1)
	if area2(poly) < 0 {
		wind = -1
	}
	for i, p := range poly {
		out = append(out, edge{p, poly[(i+1)%len(poly)], wind})
	}
	return out
}

// area2 returns twice the area of a polygon, positive where it runs
// counter-clockwise. Bare numbers: of the picture.
func area2(poly []dot) float64 {
	var sum float64
	for i := 2; i < len(poly); i++ {
		sum += turn(poly[0], poly[i-1], poly[i])
	}
	return sum
}
