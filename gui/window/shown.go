package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/page"
)

// Shown is what the window shows in words, for a test that sits before it.
type Shown struct {
	Tiles  [6]desk.Tile `json:"tiles"`  // as the strip shows them
	Status string       `json:"status"` // the line at the foot
	Spots  string       `json:"spots"`  // what the page of places says of the chosen one
	// Buttons: the middle of each that can be pressed, in pixels of the window; of
	// the dialog on top, else of the slider and of the page of places.
	Buttons map[string][2]int `json:"buttons"`
}

// tells returns what the window shows. Call it on the toolkit's goroutine.
func (w *Window) tells() Shown {
	s := Shown{Status: w.status.Text(), Buttons: map[string][2]int{}}
	for q := range s.Tiles {
		s.Tiles[q] = w.strip.Tile(desk.Question(q)).Shown()
	}
	spots, _ := w.pages[desk.Mounts].(*page.Spots)
	if spots != nil {
		s.Spots = spots.Chosen()
	}
	switch top := w.win.Canvas().Overlays().Top(); {
	case top != nil:
		w.buttons(top, s.Buttons)
	case spots != nil && spots.Visible():
		w.buttons(spots.Use, s.Buttons)
		s.Buttons[spots.Why.Text] = w.middleOf(spots.Why)
		fallthrough
	default:
		w.buttons(w.drop.Back, s.Buttons)
		if drop, ok := w.pages[desk.Lowers].(*page.Drop); ok && drop.Visible() && w.asked == desk.Lowers {
			w.buttons(drop.Map.Start, s.Buttons)
		}
	}
	return s
}

// buttons adds the buttons of an object: those in plain containers.
func (w *Window) buttons(o fyne.CanvasObject, at map[string][2]int) {
	switch o := o.(type) {
	case *widget.PopUp:
		w.buttons(o.Content, at)
	case *fyne.Container:
		for _, inner := range o.Objects {
			w.buttons(inner, at)
		}
	case *widget.Button:
		if o.Text == "" || o.Disabled() || !o.Visible() {
			return
		}
		at[o.Text] = w.middleOf(o)
	case *answer:
		if o.Text != "" && !o.Disabled() && o.Visible() {
			at[o.Text] = w.middleOf(o)
		}
	}
}

// middleOf returns the middle of an object, in pixels of the window.
func (w *Window) middleOf(o fyne.CanvasObject) [2]int {
	mid := w.app.Driver().AbsolutePositionForObject(o).Add(fyne.NewPos(o.Size().Width/2, o.Size().Height/2))
	scale := w.win.Canvas().Scale()
	return [2]int{int(mid.X * scale), int(mid.Y * scale)}
}
