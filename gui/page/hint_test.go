package page

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// A hint is said while the pointer is over its button, in place of the status,
// and does not take the button's taps.
func TestHintIsSaidAndTakesNoTaps(t *testing.T) {
	test.NewTempApp(t)
	h, taps := &hostSpy{}, 0
	b := widget.NewButton("Do it", func() { taps++ })
	o := hinted(h, b, "it is done")
	w := test.NewTempWindow(t, o)
	w.Resize(fyne.NewSize(200, 80))
	test.TapCanvas(w.Canvas(), fyne.NewPos(100, 40))
	if taps != 1 {
		t.Errorf("%d taps came through", taps)
	}
	over := o.(*fyne.Container).Objects[1].(*hint)
	over.MouseIn(&desktop.MouseEvent{})
	over.MouseMoved(&desktop.MouseEvent{})
	over.MouseOut()
	if len(h.hints) < 2 || h.hints[0] != "it is done" || h.hints[len(h.hints)-1] != "" {
		t.Errorf("said %q", h.hints)
	}
	s := NewStatus(nil, nil)
	s.says = "all fits"
	s.Hint("what it does")
	said := s.Text()
	s.Hint("")
	if said != "what it does" || s.Text() != "all fits" {
		t.Errorf("status %q, then %q", said, s.Text())
	}
}
