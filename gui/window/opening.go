package window

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// opening tells that another layout is on its way while one is open. It lies over
// the window: an edit made now would come too late for the one and too early for
// the other.
type opening struct {
	dialog *dialog.CustomDialog
	text   *widget.Label
	bar    *widget.ProgressBar
}

// showOpening begins to tell, if a layout is open already; on an empty desk the
// window itself does.
func (w *Window) showOpening() {
	if !w.state.Open {
		return
	}
	text := widget.NewLabel(phrase.Of("Opening …"))
	text.Wrapping = fyne.TextWrapWord
	o := &opening{text: text, bar: widget.NewProgressBar()}
	o.dialog = dialog.NewCustomWithoutButtons(phrase.Of("Opening another layout"), container.NewVBox(text, o.bar), w.win)
	o.dialog.SetButtons([]fyne.CanvasObject{w.newAnswer(phrase.Of("Cancel"), w.desk.StopOpening)})
	o.dialog.Resize(fyne.NewSize(min(520, w.win.Canvas().Size().Width*0.9), 200))
	o.dialog.SetOnClosed(w.desk.StopOpening) // by Escape; afterwards there is nothing to stop
	w.opening = o
	w.showClosable(o.dialog)
}

// updateOpening tells how far it is.
func (w *Window) updateOpening(c *desk.Coming) {
	if w.opening == nil || c == nil {
		return
	}
	w.opening.text.SetText(filepath.Base(c.Path) + "\n" + c.Says() + "\n" + phrase.Of("Until then the layout on the screen stays."))
	w.opening.bar.SetValue(c.Share())
}

// endOpening takes it away.
func (w *Window) endOpening() {
	if w.opening != nil {
		w.opening.dialog.Hide()
		w.opening = nil
	}
}
