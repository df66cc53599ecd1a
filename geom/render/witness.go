package render

import "math"

// shownWitness is a dimension line on the picture.
type shownWitness struct {
	a, b                   place
	acrossShare, downShare float64 // of its length: its direction
	text                   string
}

// witnesses draws dimension lines: first all lines, so that none runs over a
// text, then the texts beside them.
func (p *painter) witnesses(w *writer, list []Witness) {
	shown := make([]shownWitness, 0, len(list))
	for i := range list {
		d := &list[i]
		x0, y0, ok0 := p.f.Project(d.From)
		x1, y1, ok1 := p.f.Project(d.To)
		if !ok0 || !ok1 {
			continue
		}
		s := shownWitness{a: place{x0, y0}, b: place{x1, y1}, acrossShare: 1, text: d.Text}
		if length := math.Hypot(x1-x0, y1-y0); length > 1e-6 {
			s.acrossShare, s.downShare = (x1-x0)/length, (y1-y0)/length
		}
		w.dimension(&s, d.Color)
		shown = append(shown, s)
	}
	for i := range shown {
		if shown[i].text != "" {
			w.figure(&shown[i], len(shown) == 1)
		}
	}
}

// dimension draws the line with end ticks across it.
func (w *writer) dimension(s *shownWitness, c RGB) {
	tick, wide := 0.5*w.sizePx, w.lineShare
	for _, pass := range []struct {
		extraPx float64
		c       RGB
	}{{2.4 * wide, w.tone.halo}, {0, c}} {
		w.segment(s.a, s.b, 2*wide+pass.extraPx, pass.c, 1)
		for _, e := range []place{s.a, s.b} {
			w.segment(place{e.xPx - s.downShare*tick, e.yPx + s.acrossShare*tick}, place{e.xPx + s.downShare*tick, e.yPx - s.acrossShare*tick}, 2*wide+pass.extraPx, pass.c, 1)
			w.pill(e.xPx, e.yPx, 2.4*wide+pass.extraPx/2, 2.4*wide+pass.extraPx/2, pass.c, 1)
		}
	}
	for _, e := range []place{s.a, s.b} { // nothing is written over its ends
		w.taken = append(w.taken, area{e.xPx - tick, e.yPx - tick, e.xPx + tick, e.yPx + tick})
	}
}

// figure writes the text of a dimension line: off to the upper side, far enough
// not to cover the line, or to the lower side; where something is written there,
// farther off with a leader. One that stands alone is written in any case, others
// only where there is room.
func (w *writer) figure(s *shownWitness, alone bool) {
	ux, uy := s.acrossShare, s.downShare
	if ux < 0 {
		ux, uy = -ux, -uy
	}
	halfX, halfY := w.plateSize(s.text)
	off := halfY + 0.5*w.sizePx + math.Abs(uy)*halfX
	var places []place
	for _, share := range [3]float64{0.5, 0.3, 0.7} {
		x, y := s.a.xPx+share*(s.b.xPx-s.a.xPx), s.a.yPx+share*(s.b.yPx-s.a.yPx)
		places = append(places, place{x + uy*off, y - ux*off}, place{x - uy*off, y + ux*off})
	}
	for _, at := range places {
		if w.isFree(area{at.xPx - halfX, at.yPx - halfY, at.xPx + halfX, at.yPx + halfY}) {
			w.plate(at.xPx, at.yPx, s.text, w.tone.text, w.tone.halo)
			return
		}
	}
	if w.labelAt(place{(s.a.xPx + s.b.xPx) / 2, (s.a.yPx + s.b.yPx) / 2}, s.text) || !alone {
		return
	}
	w.plate(places[0].xPx, places[0].yPx, s.text, w.tone.text, w.tone.halo)
}
