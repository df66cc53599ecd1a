package render

import (
	"math"

	"aftbay/geom"
)

// pose returns the vehicle-to-view placement. The view frame mirrors depth, so
// its R is no rotation; it is used for points and directions only.
func (v *view) pose() geom.Pose {
	r := geom.Pose{}.R
	for k := range 3 {
		r.Set(0, k, v.right[k])
		r.Set(1, k, v.up[k])
		r.Set(2, k, -v.back[k])
	}
	return geom.Pose{R: r, T: r.Mul3x1(v.eye).Mul(-1)}
}

// drawRun draws a run of triangles into vis. A closed item's triangles that are
// turned away are left out.
//
// Long on purpose: it runs for every triangle. Most of a fine mesh are turned
// away, hold no pixel centre or just one: those are settled here, without a call.
func (p *painter) drawRun(c chunk, vis []uint64) {
	f := p.f
	it := &f.items[c.item]
	least := int64(math.MinInt64) // area from which on a triangle is drawn
	if it.Closed {
		least = 1
	}
	corners := f.buf.corner[p.corner0[c.item]:p.corner0[c.item+1]]
	lastX, lastY := int32(f.w)-1, int32(f.h)-1
	id := uint32(f.first[c.item] + c.from)
	for t, tri := range it.Mesh.Tris[c.from:c.to] {
		id++
		a, b, d := corners[tri[0]], corners[tri[1]], corners[tri[2]]
		if a.out|b.out|d.out != 0 {
			p.drawClipped(it, c.from+t, a.out&b.out&d.out, a.out|b.out|d.out, it.Closed, func(a, b, d corner) { fill(vis, f.w, f.h, id, a, b, d) })
			continue
		}
		area := facing(a, b, d)
		if area < least || area == 0 {
			continue
		}
		// The pixel centres in the triangle's box and on the picture; the sign bit
		// of nothing says that there are some.
		x0, x1 := max(0, (min(a.x, b.x, d.x)+subPx-1)>>8), min(lastX, max(a.x, b.x, d.x)>>8)
		y0, y1 := max(0, (min(a.y, b.y, d.y)+subPx-1)>>8), min(lastY, max(a.y, b.y, d.y)>>8)
		wide, high := x1-x0, y1-y0
		switch {
		case wide|high < 0:
		case wide|high == 0:
			if area > 0 {
				b, d = d, b
			} else {
				area = -area
			}
			if onPixel(a, b, x0, y0)|onPixel(b, d, x0, y0)|onPixel(d, a, x0, y0) >= 0 {
				at := &vis[int(y0)*f.w+int(x0)]
				*at = max(*at, uint64(math.Float32bits(float32(planeOf(a, b, d, area).at(a, x0, y0))))<<32|uint64(id))
			}
		default:
			fill(vis, f.w, f.h, id, a, b, d)
		}
	}
}

// drawClipped clips triangle t and hands what is left to put, in triangles; all
// holds the reasons that the corners share, some those of any.
func (p *painter) drawClipped(it *Item, t int, all, some uint32, cull bool, put func(a, b, c corner)) {
	if all&^outGuard != 0 {
		return
	}
	var tri [3]geom.Vec
	for k, i := range it.Mesh.Tris[t] {
		tri[k] = p.f.view.place(it.Pose.Point(it.Mesh.Verts[i]))
	}
	var poly [maxClipped]corner
	n := p.f.view.clipped(tri, some, &poly)
	for i := 2; i < n; i++ {
		side := facing(poly[0], poly[i-1], poly[i])
		if side == 0 || cull && side < 0 {
			continue
		}
		put(poly[0], poly[i-1], poly[i])
	}
}
