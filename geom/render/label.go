package render

import "math"

// label writes a text beside its point, where there is room, with a leader line;
// elsewhere a dot alone, which is better than two texts that cannot be read.
func (p *painter) label(w *writer, l Label) {
	x, y, ok := p.f.Project(l.At)
	if !ok {
		return
	}
	w.labelAt(place{x, y}, l.Text)
	w.pill(x, y, 2.5, 2.5, w.tone.text, 1)
}

// labelAt writes a text with a leader line to a place; it is false where there is
// no room.
func (w *writer) labelAt(dot place, text string) bool {
	halfX, _ := w.plateSize(text)
	x, y := dot.xPx, dot.yPx
	var places []place
	for ring := 1.0; ring <= 10; ring++ {
		dx, dy := 1.2*w.sizePx+halfX, 2*w.sizePx*ring
		places = append(places, place{x + dx, y - dy}, place{x - dx, y - dy}, place{x + dx, y + dy}, place{x - dx, y + dy})
		if ring > 1 { // beside, ever farther out
			dx += 1.6 * w.sizePx * ring
			places = append(places, place{x + dx, y}, place{x - dx, y}, place{x + dx, y - dy/2}, place{x - dx, y - dy/2}, place{x + dx, y + dy/2}, place{x - dx, y + dy/2})
		}
	}
	end := func(at place) place { return place{at.xPx - math.Copysign(halfX, at.xPx-x), at.yPx} }
	at, free := w.freeLabel(text, places, func(at place) leader { return leader{dot, end(at)} })
	if !free {
		return false
	}
	w.leaders = append(w.leaders, leader{dot, end(at)})
	w.segment(dot, end(at), 1.4, w.tone.text, 0.8)
	w.plate(at.xPx, at.yPx, text, w.tone.text, w.tone.halo)
	return true
}

// leader is the line from a label to its point.
type leader struct{ from, to place }

// freeLabel returns the first of the places where a plate covers nothing and its
// leader crosses no other leader and no plate; else the first where the plate
// covers nothing; ok is false if there is none.
func (w *writer) freeLabel(text string, places []place, leaderTo func(at place) leader) (at place, ok bool) {
	halfX, halfY := w.plateSize(text)
	for _, p := range places {
		if !w.isFree(area{p.xPx - halfX, p.yPx - halfY, p.xPx + halfX, p.yPx + halfY}) {
			continue
		}
		if w.clear(leaderTo(p)) {
			return p, true
		}
		if !ok {
			at, ok = p, true
		}
	}
	return at, ok
}

// clear reports whether a leader crosses no other and runs over no plate.
func (w *writer) clear(l leader) bool {
	for _, o := range w.leaders {
		if crosses(l, o) {
			return false
		}
	}
	for _, t := range w.taken {
		a, b := place{t.leftPx, t.topPx}, place{t.rightPx, t.bottomPx}
		if crosses(l, leader{a, b}) || crosses(l, leader{place{b.xPx, a.yPx}, place{a.xPx, b.yPx}}) {
			return false
		}
	}
	return true
}

// crosses reports whether two lines have a point in common; touching ends do not
// count.
func crosses(l, o leader) bool {
	side := func(a, b, p place) float64 {
		return (b.xPx-a.xPx)*(p.yPx-a.yPx) - (b.yPx-a.yPx)*(p.xPx-a.xPx)
	}
	return side(l.from, l.to, o.from)*side(l.from, l.to, o.to) < 0 && side(o.from, o.to, l.from)*side(o.from, o.to, l.to) < 0
}
