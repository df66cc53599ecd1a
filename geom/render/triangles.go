package render

import "aftbay/geom"

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
func (p *painter) drawRun(c chunk, vis []uint64) {
	f := p.f
	it := &f.items[c.item]
	cull := it.Closed
	corners := f.buf.corner[p.corner0[c.item]:p.corner0[c.item+1]]
	for t := c.from; t < c.to; t++ {
		tri := it.Mesh.Tris[t]
		a, b, d := corners[tri[0]], corners[tri[1]], corners[tri[2]]
		id := uint32(f.first[c.item] + t + 1)
		if a.out|b.out|d.out != 0 {
			p.drawClipped(it, t, a.out&b.out&d.out, a.out|b.out|d.out, cull, func(a, b, d corner) { fill(vis, f.w, f.h, id, a, b, d) })
			continue
		}
		side := facing(a, b, d)
		if side == 0 || cull && side < 0 || !covers(a, b, d, f.w, f.h) {
			continue
		}
		fill(vis, f.w, f.h, id, a, b, d)
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
