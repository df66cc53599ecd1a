package render

import (
	"fmt"
	"math"
	"strings"
)

// ScaleMark is a value told apart on the scale bar: a limit.
type ScaleMark struct {
	Value float32
	Text  string
}

// barText is a text beside the bar; Bare numbers: at in the scale's unit.
type barText struct {
	at   float32
	text string
	mark bool
}

// scaleBar draws the field's colours at the right, with both ends, round values
// between them and the marks; title above, foot below.
func (p *painter) scaleBar(w *writer) {
	s := p.o.Field
	title, foot := lines(s.Title), lines(s.Foot)
	wide, tall := 1.1*w.sizePx, min(14*w.sizePx, 0.5*float64(w.img.Rect.Dy()))
	texts := s.texts(1.8 * w.sizePx / tall)
	gap, line := 0.5*w.sizePx, 1.25*w.sizePx
	room := 0.0
	for _, t := range texts {
		room = max(room, wide+gap+w.widthOf(t.text))
	}
	for _, t := range append(title, foot...) {
		room = max(room, w.widthOf(t))
	}
	x, top := float64(w.img.Rect.Dx())-room-1.6*w.sizePx, 0.7*w.sizePx
	y := math.Round(top + line*float64(len(title)) + 1.4*w.sizePx) // rows are whole pixels: their colours are exact
	bottom := y + tall + 1.1*w.sizePx + line*float64(len(foot))
	halfX, halfY := room/2+0.9*w.sizePx, (bottom-top)/2
	w.pill(x+room/2, top+halfY, halfX, halfY, w.tone.halo, 0.9)
	w.taken = append(w.taken, area{x + room/2 - halfX, top, x + room/2 + halfX, bottom})
	for i, t := range title {
		w.put(x, top+line*(float64(i)+0.8), t, w.tone.text)
	}
	for i, t := range foot {
		w.put(x, y+tall+0.6*w.sizePx+line*(float64(i)+0.6), t, w.tone.text)
	}
	for row := range int(tall) {
		c := s.tint(1 - (float64(row)+0.5)/tall)
		w.segment(place{x, y + float64(row) + 0.5}, place{x + wide, y + float64(row) + 0.5}, 1, c, 1)
	}
	for _, t := range texts {
		at := y + tall*(1-s.share(t.at))
		from := x + wide
		if t.mark { // across the bar, with a rim that stands out from every colour
			from = x - 0.3*w.sizePx
			w.segment(place{from, at}, place{x + wide + 0.3*gap, at}, 4, w.tone.halo, 1)
			w.segment(place{from, at}, place{x + wide + 0.3*gap, at}, 1.8, w.tone.text, 1)
		}
		w.segment(place{from, at}, place{x + wide + 0.6*gap, at}, 1.2, w.tone.text, 1)
		w.put(x+wide+gap, at, t.text, w.tone.text)
	}
}

// lines cuts a text at its line ends; an empty one has none.
func lines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, "\n")
}

// share returns where a value stands on the scale, 0..1.
func (s *FieldScale) share(value float32) float64 {
	share := float64(value-s.Low) / float64(s.High-s.Low)
	if !(s.High > s.Low) || math.IsNaN(share) {
		return 0.5
	}
	return max(0, min(1, share))
}

// texts returns what stands beside the bar: marks, both ends, then round values
// that keep a distance of leastShare of the bar from those before.
func (s *FieldScale) texts(leastShare float64) []barText {
	var out []barText
	add := func(value float32, text string, mark bool) {
		for _, t := range out {
			if math.Abs(s.share(t.at)-s.share(value)) < leastShare {
				return
			}
		}
		out = append(out, barText{value, text, mark})
	}
	unit := s.Unit
	if unit != "" {
		unit = " " + unit
	}
	for _, m := range s.Marks {
		if m.Value >= s.Low && m.Value <= s.High {
			add(m.Value, m.Text, true)
		}
	}
	add(s.High, number(s.High)+unit, false)
	if !(s.High > s.Low) {
		return out
	}
	add(s.Low, number(s.Low)+unit, false)
	const most = 5 // values between the ends
	step := roundStep(float64(s.High-s.Low) / most)
	for k := math.Ceil(float64(s.Low) / step); k*step < float64(s.High) && len(out) < 4*most; k++ {
		add(float32(k*step), number(float32(k*step))+unit, false)
	}
	return out
}

// roundStep returns 1, 2 or 5 times a power of ten, no less than the given step.
// Bare numbers: in the unit of the scale.
func roundStep(least float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, f := range [3]float64{1, 2, 5} {
		if f*ten >= least*(1-1e-9) {
			return f * ten
		}
	}
	return 10 * ten
}

// number writes a value of a scale with no more places than it deserves.
func number(value float32) string {
	switch size := math.Abs(float64(value)); {
	case size >= 100 || size == math.Trunc(size):
		return fmt.Sprintf("%.0f", value)
	case size >= 10:
		return fmt.Sprintf("%.1f", value)
	}
	return fmt.Sprintf("%.2f", value)
}
