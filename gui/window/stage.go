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
}

// TypedKey asks the window first.
func (s *stage) TypedKey(e *fyne.KeyEvent) {
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
