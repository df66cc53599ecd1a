package render

import "math"

// Widths of an arrow in letter heights: without a share and with all of it, and
// its head beside that.
const (
	thinFlow  = 0.14
	thickFlow = 0.60
	flowHead  = 1.0
)

// flow draws an arrow with a rim that stands out from every colour, and its text
// beside its beginning.
func (p *painter) flow(w *writer, f *Flow) {
	x0, y0, ok0 := p.f.Project(f.From)
	x1, y1, ok1 := p.f.Project(f.To)
	length := math.Hypot(x1-x0, y1-y0)
	if !ok0 || !ok1 || math.IsNaN(length) || math.IsInf(length, 0) {
		return
	}
	c := f.Color
	if p.o.Dark {
		c = mix(c, RGB{255, 255, 255}, 0.45)
	}
	from, to := place{x0, y0}, place{x1, y1}
	wide := w.sizePx * (thinFlow + (thickFlow-thinFlow)*max(0, min(1, f.Share)))
	head := w.sizePx*flowHead + wide
	if head = min(head, 0.6*length); head > 0 {
		ux, uy := (x1-x0)/length, (y1-y0)/length
		neck := place{x1 - ux*head*0.7, y1 - uy*head*0.7}
		side := head / 2
		for _, pass := range []struct {
			rimPx float64
			c     RGB
		}{{2.4, w.tone.halo}, {0, c}} {
			w.segment(from, neck, wide+pass.rimPx, pass.c, 1)
			for _, s := range [2]float64{1, -1} {
				wing := place{x1 - ux*head - s*uy*side, y1 - uy*head + s*ux*side}
				w.segment(to, wing, wide+pass.rimPx, pass.c, 1)
			}
			w.pill(from.xPx, from.yPx, wide+pass.rimPx/2, wide+pass.rimPx/2, pass.c, 1)
		}
	}
	if f.Text == "" {
		return
	}
	halfX, halfY := w.plateSize(f.Text)
	var places []place
	for ring := 1.0; ring <= 4; ring++ {
		up, over := ring*2*halfY, halfX+wide+0.6*w.sizePx
		places = append(places, place{x0, y0 - up}, place{x0, y0 + up}, place{x0 + over, y0}, place{x0 - over, y0},
			place{x0 + over, y0 - up}, place{x0 - over, y0 - up}, place{x0 + over, y0 + up}, place{x0 - over, y0 + up})
	}
	at := w.freePlace(f.Text, places)
	w.plate(at.xPx, at.yPx, f.Text, w.tone.text, w.tone.halo)
}
