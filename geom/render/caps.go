package render

import (
	"math"

	"aftbay/geom"
)

// addCaps closes the cut faces of solids. Along the line of sight through a
// pixel, the kept part of a solid is entered as often as it is left, except
// where the sight enters through the cut: there one more face is turned away.
// Where two solids cap the same pixel they overlap.
func (p *painter) addCaps() {
	cut, f := p.o.Cut, p.f
	if cut == nil || p.failed != nil || !p.facesCut() {
		return
	}
	f.buf.wind = cleared(f.buf.wind, f.w*f.h)
	f.buf.twice = cleared(f.buf.twice, f.w*f.h)
	plane := p.planeDepth()
	for i := range f.items {
		it := &f.items[i]
		if it.Hidden || it.Mesh == nil || !it.Closed || it.Ghost || !p.straddles(it) {
			continue
		}
		if p.err() != nil {
			return
		}
		p.windItem(i)
		p.capItem(i, plane)
	}
}

// facesCut reports whether the eye is on the side taken away.
func (p *painter) facesCut() bool {
	v := &p.f.view
	if v.cam.Parallel {
		return v.back.Dot(p.o.Cut.Normal) > 0
	}
	return p.o.Cut.beyondMM(v.eye) > 0
}

// straddles reports whether the box of the item meets the cut.
func (p *painter) straddles(it *Item) bool {
	var above, below bool
	for _, c := range it.Mesh.Box().Corners() {
		d := p.o.Cut.beyondMM(it.Pose.Point(c))
		above, below = above || d > 0, below || d <= 0
	}
	return above && below
}

// slope is a depth value over the picture, which is linear for a plane.
type slope struct {
	nearness       float64 // at the picture's middle
	xPerPx, yPerPx float64
	midXPx, midYPx float64
	mostNearness   float64 // of the near plane
}

// at returns the depth value at a sample, 0 where the plane is not before the
// eye.
func (s *slope) at(xPx, yPx float64) (nearness float64) {
	z := s.nearness + s.xPerPx*(xPx-s.midXPx) + s.yPerPx*(yPx-s.midYPx)
	if !(z <= s.mostNearness) {
		return 0
	}
	return z
}

// planeDepth returns the depth value of the cut over the picture. With a sample
// at (x, y) of the plane n·(p−q) = 0, seen from e at depth w:
// perspective 1/w = n·(x·right + y·up − back) / n·(q−e), x and y as slopes;
// parallel w = n·(e−q + x·right + y·up) / n·back, x and y in mm.
func (p *painter) planeDepth() slope {
	v, n := &p.f.view, p.o.Cut.Normal
	s := slope{midXPx: v.midXPx, midYPx: v.midYPx}
	perX, perY := n.Dot(v.right)/v.scalePx, -n.Dot(v.up)/v.scalePx
	if v.cam.Parallel {
		ahead := n.Dot(v.back)
		unit := -1 / (2 * v.rangeMM)
		s.nearness = 1.75 + unit*(p.o.Cut.beyondMM(v.eye)/ahead-v.nearMM)
		s.xPerPx, s.yPerPx = unit*perX*v.cam.DistMM/ahead, unit*perY*v.cam.DistMM/ahead
		s.mostNearness = 1.75
		return s
	}
	away := -p.o.Cut.beyondMM(v.eye) // n·(q−e)
	s.nearness, s.xPerPx, s.yPerPx = -n.Dot(v.back)/away, perX/away, perY/away
	s.mostNearness = 1 / v.nearMM
	return s
}

// windItem counts for each sample the faces of the kept part turned away less
// those turned towards the eye.
func (p *painter) windItem(i int) {
	f := p.f
	it := &f.items[i]
	corners := f.buf.corner[p.corner0[i]:p.corner0[i+1]]
	count := func(a, b, c corner) { f.countFaces(a, b, c) }
	for t, tri := range it.Mesh.Tris {
		a, b, c := corners[tri[0]], corners[tri[1]], corners[tri[2]]
		if a.out|b.out|c.out != 0 {
			p.drawClipped(it, t, a.out&b.out&c.out, false, count)
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
func (p *painter) capItem(i int, plane slope) {
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
			z := float32(plane.at(float64(x)+0.5, float64(y)+0.5))
			if !(z > 0) || math.Float32bits(z) < uint32(f.buf.vis[k]>>32) {
				continue
			}
			if old := int(uint32(f.buf.vis[k])) - 1; old >= total {
				f.buf.twice[k], f.capOverlap = true, true
			}
			f.buf.vis[k] = uint64(math.Float32bits(z))<<32 | uint64(total+i+1)
		}
	}
}

// shownBox returns the samples that an item can touch: the whole picture if
// it comes near the eye.
func (p *painter) shownBox(it *Item) (x0, y0, x1, y1 int) {
	f := p.f
	loX, loY, hiX, hiY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range it.Mesh.Box().Corners() {
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
