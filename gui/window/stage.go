package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/gui/view3d"
)

// stage is the scene with keys of the window's own, asked before the view's.
type stage struct {
	*view3d.View
	key func(e *fyne.KeyEvent) bool
	// note is told of what is handled; nil for nobody
	note func(what string, at fyne.Position)
}

func (s *stage) noted(what string, at fyne.Position) {
	if s.note != nil {
		s.note(what, at)
	}
}

// MouseMoved tells what is under the pointer.
func (s *stage) MouseMoved(e *desktop.MouseEvent) {
	s.noted("move", e.Position)
	s.View.MouseMoved(e)
}

// Dragged turns, shifts or takes a part along.
func (s *stage) Dragged(e *fyne.DragEvent) {
	s.noted("drag", e.Position)
	s.View.Dragged(e)
}

// TypedKey asks the window first.
func (s *stage) TypedKey(e *fyne.KeyEvent) {
	s.noted("key", fyne.Position{})
	if !s.key(e) {
		s.View.TypedKey(e)
	}
}

// MouseDown takes the keyboard.
func (s *stage) MouseDown(e *desktop.MouseEvent) {
	s.View.MouseDown(e)
	s.focus()
}

// Tapped picks and takes the keyboard.
func (s *stage) Tapped(e *fyne.PointEvent) {
	s.View.Tapped(e)
	s.focus()
}

func (s *stage) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
		c.Focus(s)
	}
}
