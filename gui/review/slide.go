package review

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// slide is one finding on the wall: sign and title on top, the section at the
// left, numbers, where it is and the source at the right, the decision below.
type slide struct {
	window              *Window
	mark                *theme.Mark
	title, under        *words
	place, clock        *words
	figures             [mostFigures]figure
	lines               *widget.Label
	section, around     *canvas.Image
	caption, captionTwo *words
	edge                *canvas.Line // between slide and decision
	bar                 *bar
	swapped             bool
	pictures            [2]*desk.Still
	content             *fyne.Container
	room                fyne.Size
}

// mostFigures is how many numbers a slide has room for: those of a temperature.
const mostFigures = 4

// figure is a number with what it is over it.
type figure struct{ head, number *words }

func newSlide(w *Window) *slide {
	ink, quiet := fynetheme.ColorNameForeground, fynetheme.ColorNamePlaceHolder
	look := w.wall
	s := &slide{window: w, mark: theme.VerdictMark(""), title: look.words(titleShare, ink, true), under: look.words(wordShare, ink, false)}
	s.place, s.clock = look.words(wordShare, ink, true), look.words(smallShare, quiet, false)
	s.place.Alignment, s.clock.Alignment = fyne.TextAlignTrailing, fyne.TextAlignTrailing
	s.caption, s.captionTwo = look.words(smallShare, quiet, false), look.words(smallShare, quiet, false)
	s.section, s.around = newPicture(), newPicture()
	s.edge = canvas.NewLine(look.color(fynetheme.ColorNameSeparator))
	s.bar = newBar(w)
	objects := []fyne.CanvasObject{s.mark, s.title, s.under, s.place, s.clock, s.section, s.around, s.caption, s.captionTwo, s.edge, s.bar.content}
	for k := range s.figures {
		s.figures[k] = figure{look.words(smallShare, quiet, true), look.words(numberShare, ink, true)}
		objects = append(objects, s.figures[k].head, s.figures[k].number)
	}
	s.lines = widget.NewLabel("")
	s.lines.Wrapping, s.lines.SizeName = fyne.TextWrapWord, fynetheme.SizeNameCaptionText
	s.content = &fyne.Container{Layout: s, Objects: drawnOf(append(objects, s.lines))}
	return s
}

// drawnOf returns what the toolkit draws of some objects.
func drawnOf(objects []fyne.CanvasObject) []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(objects))
	for i, o := range objects {
		if t, ok := o.(*words); ok {
			o = t.Text
		}
		out[i] = o
	}
	return out
}

func newPicture() *canvas.Image { return &canvas.Image{FillMode: canvas.ImageFillContain} }

// update shows the slide of the review.
func (s *slide) update(state *desk.State, r *desk.Review, now time.Time) {
	is := desk.SlideOf(state, r.Key())
	s.mark.SetVerdict(is.Verdict)
	s.title.say(is.Title)
	under := is.Word
	if is.Under != "" {
		under += " · " + is.Under
	}
	if is.Stale {
		under += phrase.Of(" · of an earlier state: computing")
	}
	s.under.say(under)
	s.place.say(r.Place())
	s.clock.say(r.Clock(now))
	for k := range s.figures {
		f := desk.Figure{}
		if k < len(is.Figures) {
			f = is.Figures[k]
		}
		s.figures[k].head.say(f.Head)
		number := f.Number
		if f.Unit != "" {
			number += " " + f.Unit
		}
		s.figures[k].number.say(number)
	}
	if text := strings.Join(is.Lines, "\n"); s.lines.Text != text {
		s.lines.SetText(text)
	}
	s.bar.update(is.Decision)
	s.Layout(nil, s.room)
}

// pictureSizes returns how large the two pictures are made, in pixels.
func (s *slide) pictureSizes() (big, small desk.StillSize) {
	scale := s.window.win.Canvas().Scale()
	of := func(size fyne.Size) desk.StillSize {
		hPx := float64(size.Height * scale)
		return desk.StillSize{WPx: int(size.Width * scale), HPx: int(hPx), TextPx: max(14, float64(s.window.wall.of(smallShare)*scale))}
	}
	big, small = of(s.section.Size()), of(s.around.Size())
	if s.swapped {
		return small, big
	}
	return big, small
}

// clearPictures takes the pictures of another slide away.
func (s *slide) clearPictures() {
	s.setPictures(nil, nil)
	s.caption.say("drawing …")
}

// setPictures shows the section large and where it is small, or the other way
// about; without a section the other is large.
func (s *slide) setPictures(section, around *desk.Still) {
	if section == nil {
		section, around = around, nil
	}
	if s.swapped && around != nil {
		section, around = around, section
	}
	s.pictures = [2]*desk.Still{section, around}
	for k, still := range s.pictures {
		picture, caption := s.section, s.caption
		if k == 1 {
			picture, caption = s.around, s.captionTwo
		}
		picture.Image = nil
		text := ""
		if still != nil {
			picture.Image, text = still.Image, still.Caption
		}
		picture.Refresh()
		caption.say(text)
	}
	s.Layout(nil, s.room)
}

// swap makes the small picture the large one.
func (s *slide) swap() {
	s.swapped = !s.swapped
	s.window.drawn = drawn{}
	s.window.draw()
}
