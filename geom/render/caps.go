package render

import (
	"math"

	"aftbay/geom"
)

// addCaps closes the cut faces of solids. What the cuts that face the eye leave
// is, along the line of sight through a pixel, all behind the farthest of them.
// There a solid is entered as often as it is left, except where the sight enters
// through that cut: then one more face is turned away. The cap shows if the
// cuts turned away leave that point. Where two solids cap the same pixel they
// overlap.
func (p *painter) addCaps() {
	f := p.f
	facing := uint32(outNear | outGuard)
	planes := make([]slope, len(f.view.cuts))
	for k := range f.view.cuts {
		if f.view.cuts[k].faces {
			facing |= outCut << k
			planes[k] = f.view.slopeOf(&f.view.cuts[k])
		}
	}
	if facing < outCut || p.failed != nil {
		return
	}
	f.buf.wind = cleared(f.buf.wind, f.w*f.h)
	f.buf.twice = cleared(f.buf.twice, f.w*f.h)
	for i := range f.items {
		it := &f.items[i]
		if it.Hidden || it.Mesh == nil || !it.Closed || it.Ghost || !p.straddles(it) {
			continue
		}
		if p.err() != nil {
			return
		}
		p.windItem(i, facing)
		p.capItem(i, planes)
	}
}

// straddles reports whether the box of the item meets a cut that faces the eye.
func (p *painter) straddles(it *Item) bool {
	corners := p.f.boxes[it.Mesh].Corners()
	for k := range p.f.view.cuts {
		cut := &p.f.view.cuts[k]
		if !cut.faces {
			continue
		}
		var above, below bool
		for _, c := range corners {
			d := cut.beyondMM(p.f.view.place(it.Pose.Point(c)))
			above, below = above || d > 0, below || d <= 0
		}
		if above && below {
			return true
		}
	}
	return false
}

// slope is a depth value over the picture, which is linear for a plane.
type slope struct {
	nearness       float64 // at the picture's middle
	xPerPx, yPerPx float64
	midXPx, midYPx float64
	mostNearness   float64 // of the near plane
}

// at returns the depth value at a sample: 0 or less where the plane is not
// before the eye.
func (s *slope) at(xPx, yPx float64) (nearness float64) {
	return s.nearness + s.xPerPx*(xPx-s.midXPx) + s.yPerPx*(yPx-s.midYPx)
}

// slopeOf returns the depth value of a cut over the picture. With a sample at
// (x, y) of the plane n·p + o = 0 in view points, seen from the eye at depth w:
// perspective 1/w = -(n·(x, y, 1))/o, x and y as slopes; parallel
// w = -(n·(x, y, 0) + o)/n[2], x and y in mm.
func (v *view) slopeOf(c *cutPlane) slope {
	s := slope{midXPx: v.midXPx, midYPx: v.midYPx}
	perX, perY := c.normal[0]/v.scalePx, -c.normal[1]/v.scalePx
	if v.cam.Parallel {
		unit := -1 / (2 * v.rangeMM)
		s.nearness = 1.75 + unit*(-c.offsetMM/c.normal[2]-v.nearMM)
		s.xPerPx, s.yPerPx = -unit*perX*v.cam.DistMM/c.normal[2], -unit*perY*v.cam.DistMM/c.normal[2]
		s.mostNearness = 1.75
		return s
	}
	s.nearness, s.xPerPx, s.yPerPx = -c.normal[2]/c.offsetMM, -perX/c.offsetMM, -perY/c.offsetMM
	s.mostNearness = 1 / v.nearMM
	return s
}

// capAt returns which cut the sight through a sample enters what is left by,
// with the depth value there; ok is false where it enters nothing by a cut.
func (v *view) capAt(planes []slope, xPx, yPx float64) (cut int, nearness float64, ok bool) {
	cut = -1
	for k := range planes {
		if !v.cuts[k].faces {
			continue
		}
		z := planes[k].at(xPx, yPx)
		if !(z > 0) {
			return 0, 0, false
		}
		if z <= planes[k].mostNearness && (cut < 0 || z < nearness) {
			cut, nearness = k, z
		}
	}
	if cut < 0 {
		return 0, 0, false
	}
	if len(v.cuts) > 1 {
		at := v.unpixel(xPx, yPx, nearness)
		for k := range v.cuts {
			if !v.cuts[k].faces && v.cuts[k].beyondMM(at) > 0 {
				return 0, 0, false
			}
		}
	}
	return cut, nearness, true
}

// unpixel undoes pixel.
func (v *view) unpixel(xPx, yPx, nearness float64) (viewPoint geom.Vec) {
	depthMM := v.depthMM(nearness)
	k := depthMM / v.scalePx
	if v.cam.Parallel {
		k = v.cam.DistMM / v.scalePx
	}
	return geom.Vec{(xPx - v.midXPx) * k, (v.midYPx - yPx) * k, depthMM}
}

// windItem counts for each sample the faces, of what the facing cuts leave,
// turned away less those turned towards the eye.
func (p *painter) windItem(i int, facing uint32) {
	f := p.f
	it := &f.items[i]
	corners := f.buf.corner[p.corner0[i]:p.corner0[i+1]]
	count := func(a, b, c corner) { f.countFaces(a, b, c) }
	for t, tri := range it.Mesh.Tris {
		a, b, c := corners[tri[0]], corners[tri[1]], corners[tri[2]]
		if some := (a.out | b.out | c.out) & facing; some != 0 {
			p.drawClipped(it, t, a.out&b.out&c.out&facing, some, false, count)
			continue
		}
		count(a, b, c)
	}
}

// countFaces adds one triangle to the counts.
func (f *Frame) countFaces(a, b, c corner) {
	side := facing(a, b, c)
	if side == 0 || !covers(a, b, c, f.w, f.h) {
		return
	}
	step := int8(1)
	if side > 0 {
		b, c, step = c, b, -1
	}
	x0 := max(0, int64(min(a.x, b.x, c.x)+subPx-1)>>8)
	x1 := min(int64(f.w)-1, int64(max(a.x, b.x, c.x))>>8)
	y0 := max(0, int64(min(a.y, b.y, c.y)+subPx-1)>>8)
	y1 := min(int64(f.h)-1, int64(max(a.y, b.y, c.y))>>8)
	sides := [3]edge{newEdge(a, b, x0, y0), newEdge(b, c, x0, y0), newEdge(c, a, x0, y0)}
	for y := y0; y <= y1; y++ {
		lo, hi := int64(0), x1-x0
		for k := range sides {
			lo, hi = sides[k].narrow(lo, hi)
			sides[k].at += sides[k].stepY
		}
		for x := lo; x <= hi; x++ {
			f.buf.wind[y*int64(f.w)+x0+x] += step
		}
	}
}

// capItem turns the counts of item i into cap samples and clears them.
func (p *painter) capItem(i int, planes []slope) {
	f := p.f
	total := f.first[len(f.items)]
	x0, y0, x1, y1 := p.shownBox(&f.items[i])
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			k := y*f.w + x
			if f.buf.wind[k] == 0 {
				continue
			}
			f.buf.wind[k] = 0
			cut, nearness, ok := f.view.capAt(planes, float64(x)+0.5, float64(y)+0.5)
			z := float32(nearness)
			if !ok || math.Float32bits(z) < uint32(f.buf.vis[k]>>32) {
				continue
			}
			if old := int(uint32(f.buf.vis[k])) - 1; old >= total {
				f.buf.twice[k], f.capOverlap = true, true
			}
			f.buf.vis[k] = uint64(math.Float32bits(z))<<32 | uint64(total+cut*len(f.items)+i+1)
		}
	}
}

// shownBox returns the samples that an item can touch: the whole picture if
// it comes near the eye.
func (p *painter) shownBox(it *Item) (x0, y0, x1, y1 int) {
	f := p.f
	loX, loY, hiX, hiY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range p.f.boxes[it.Mesh].Corners() {
		var corner geom.Vec = it.Pose.Point(c)
		xPx, yPx, _, ok := f.view.project(corner)
		if !ok {
			return 0, 0, f.w, f.h
		}
		loX, loY, hiX, hiY = min(loX, xPx), min(loY, yPx), max(hiX, xPx), max(hiY, yPx)
	}
	limit := func(v float64, most int) int { return int(max(0, min(float64(most), v))) }
	return limit(loX-2, f.w), limit(loY-2, f.h), limit(hiX+2, f.w), limit(hiY+2, f.h)
}
