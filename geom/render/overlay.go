package render

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
)

// roundBox returns how far a point is outside a box with round corners around
// the origin, negative inside, px.
func roundBox(xPx, yPx, halfWidthPx, halfHeightPx, radiusPx float64) float64 {
	dx := math.Abs(xPx) - halfWidthPx + radiusPx
	dy := math.Abs(yPx) - halfHeightPx + radiusPx
	return math.Hypot(max(dx, 0), max(dy, 0)) + min(max(dx, dy), 0) - radiusPx
}

// fromSegment returns the distance of a point from a segment, px.
func fromSegment(xPx, yPx float64, a, b place) float64 {
	dx, dy := b.xPx-a.xPx, b.yPx-a.yPx
	share := 0.0
	if size := dx*dx + dy*dy; size > 0 {
		share = max(0, min(1, ((xPx-a.xPx)*dx+(yPx-a.yPx)*dy)/size))
	}
	return math.Hypot(xPx-a.xPx-share*dx, yPx-a.yPx-share*dy)
}

// segment draws a straight antialiased line on the image, over everything.
func (w *writer) segment(a, b place, widthPx float64, c RGB, share float64) {
	a, b, ok := within(a, b, float64(w.img.Rect.Dx()), float64(w.img.Rect.Dy()))
	if !ok {
		return
	}
	half := widthPx / 2
	around := area{min(a.xPx, b.xPx) - half, min(a.yPx, b.yPx) - half, max(a.xPx, b.xPx) + half, max(a.yPx, b.yPx) + half}
	w.cover(around, c, share, func(xPx, yPx float64) float64 { return fromSegment(xPx, yPx, a, b) - half })
}

// within cuts a segment to the picture and a rim of 50 px around it.
func within(a, b place, widthPx, heightPx float64) (p, q place, ok bool) {
	const rim = 50
	lo, hi := 0.0, 1.0
	for _, side := range [2]struct{ fromPx, runPx, sizePx float64 }{
		{a.xPx, b.xPx - a.xPx, widthPx}, {a.yPx, b.yPx - a.yPx, heightPx},
	} {
		near, far := -rim-side.fromPx, side.sizePx+rim-side.fromPx
		if side.runPx == 0 {
			if near > 0 || far < 0 {
				return a, b, false
			}
			continue
		}
		s, t := near/side.runPx, far/side.runPx
		lo, hi = max(lo, min(s, t)), min(hi, max(s, t))
	}
	if lo > hi {
		return a, b, false
	}
	at := func(share float64) place {
		return place{a.xPx + share*(b.xPx-a.xPx), a.yPx + share*(b.yPx-a.yPx)}
	}
	return at(lo), at(hi), true
}

// addOverlay draws dimension lines, markers, labels, axes and the scale bar.
func (p *painter) addOverlay() {
	if p.err() != nil {
		return
	}
	size := p.o.TextPx
	if !(size > 0) {
		size = 14
	}
	w, err := newWriter(p.f.Image, size, p.o.Dark)
	if err != nil {
		p.failed = say.Errorf("font of the picture: %w", err)
		return
	}
	w.lineShare = p.lineScalePx() / float64(p.f.samples)
	// Room is taken by what cannot give way before plates look for theirs.
	over := &p.scene.Overlay
	if p.o.Field != nil {
		p.scaleBar(w)
	} else if over.Key != nil {
		p.key(w, over.Key)
	}
	p.markers(w, func(xPx, yPx, radiusPx float64, _ *Marker) {
		w.taken = append(w.taken, area{xPx - radiusPx, yPx - radiusPx, xPx + radiusPx, yPx + radiusPx})
	})
	for i := range over.Flows {
		if f := &over.Flows[i]; !p.cutAway(f.To) {
			p.flow(w, f)
		}
	}
	p.witnesses(w, p.witnessesLeft())
	p.markers(w, func(xPx, yPx, radiusPx float64, m *Marker) {
		w.pill(xPx, yPx, radiusPx+1.5, radiusPx+1.5, w.tone.halo, 1)
		w.pill(xPx, yPx, radiusPx, radiusPx, m.Color, 1)
		w.put(xPx-w.widthOf(m.Text)/2, yPx, m.Text, inkOn(m.Color))
	})
	for _, l := range over.Labels {
		if !p.cutAway(l.At) {
			p.label(w, l)
		}
	}
	p.gridFigures(w)
	if p.o.Field == nil && over.Key != nil {
		p.key(w, over.Key) // again, over what reached into it
	}
	if p.o.Triad {
		p.triad(w)
	}
}

// markers runs do for each marker in front of the eye.
func (p *painter) markers(w *writer, do func(xPx, yPx, radiusPx float64, m *Marker)) {
	for i := range p.scene.Overlay.Markers {
		m := &p.scene.Overlay.Markers[i]
		if !m.Stays && p.cutAway(m.At) {
			continue
		}
		if x, y, ok := p.f.Project(m.At); ok {
			if m.Stays {
				x, y = AtRim(x, y, float64(w.img.Rect.Dx()), float64(w.img.Rect.Dy()), w.sizePx)
			}
			do(x, y, max(0.8*w.sizePx, w.widthOf(m.Text)/2+0.35*w.sizePx), m)
		}
	}
}

// AtRim returns a place moved onto a picture, with room for letters of a size.
func AtRim(xPx, yPx, widthPx, heightPx, lettersPx float64) (inXPx, inYPx float64) {
	roomPx := 1.5 * lettersPx
	return max(roomPx, min(widthPx-roomPx, xPx)), max(roomPx, min(heightPx-roomPx, yPx))
}

// inkOn returns black or white, whichever reads better on a colour.
//
// Source: WCAG 2.1, relative luminance and contrast ratio.
func inkOn(c RGB) RGB {
	l := lightOf(c)
	if 0.2126*l[0]+0.7152*l[1]+0.0722*l[2] > 0.179 {
		return RGB{20, 17, 14}
	}
	return RGB{255, 255, 255}
}

// axisColours tell the axes apart; each also carries its letter. Read-only.
var axisColours = [3]RGB{{186, 84, 28}, {0, 128, 96}, {0, 104, 166}}

// triad draws the three axes in the lower left corner, farthest first.
func (p *painter) triad(w *writer) {
	arm := 2.6 * w.sizePx
	x0, y0 := 4.2*w.sizePx, float64(w.img.Rect.Dy())-4.2*w.sizePx
	v := &p.f.view
	order := [3]int{0, 1, 2}
	toEye := func(k int) float64 { return v.back[k] }
	for i := 1; i < 3; i++ {
		for j := i; j > 0 && toEye(order[j]) < toEye(order[j-1]); j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	for _, k := range order {
		axis := geom.Vec{}
		axis[k] = 1
		dx, dy := axis.Dot(v.right), -axis.Dot(v.up)
		tip := place{x0 + arm*dx, y0 + arm*dy}
		c := AxisColor(k, p.o.Dark)
		w.segment(place{x0, y0}, tip, 2.2, c, 1)
		name := string(rune('X' + k))
		w.put(x0+(arm+0.75*w.sizePx)*dx-w.widthOf(name)/2, y0+(arm+0.75*w.sizePx)*dy, name, c)
	}
}
