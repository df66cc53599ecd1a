package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// showClosable shows a dialog that only tells or can be left as it is: Escape
// closes it, as its button does.
func (w *Window) showClosable(d dialog.Dialog) {
	w.closable = slices.DeleteFunc(w.closable, func(s shownDialog) bool { return !w.stillOver(s.over) })
	w.closable = append(w.closable, shownDialog{d, nil})
	d.Show()
	w.closable[len(w.closable)-1].over = w.win.Canvas().Overlays().Top()
}

// shownDialog is a dialog with what it laid over the window.
type shownDialog struct {
	dialog dialog.Dialog
	over   fyne.CanvasObject
}

// escapeDialog closes the dialog on top for Escape, if it can be closed so.
func (w *Window) escapeDialog(key fyne.KeyName) bool {
	top := w.win.Canvas().Overlays().Top()
	if key != fyne.KeyEscape || top == nil {
		return false
	}
	for len(w.closable) > 0 {
		last := w.closable[len(w.closable)-1]
		if last.over != top { // closed by its button, or under another
			if !w.stillOver(last.over) {
				w.closable = w.closable[:len(w.closable)-1]
				continue
			}
			return true
		}
		w.closable = w.closable[:len(w.closable)-1]
		last.dialog.Hide()
		break
	}
	return true
}

// field is a text field of a dialog: Escape is the dialog's.
type field struct {
	widget.Entry
	escape func(fyne.KeyName) bool
}

func (w *Window) newField() *field {
	f := &field{escape: w.escapeDialog}
	f.ExtendBaseWidget(f)
	return f
}

// TypedKey is the toolkit's, but for Escape.
func (f *field) TypedKey(e *fyne.KeyEvent) {
	if !f.escape(e.Name) {
		f.Entry.TypedKey(e)
	}
}

// answer is a button of a dialog that Enter presses too; Escape is the dialog's.
type answer struct {
	widget.Button
	escape func(fyne.KeyName) bool
}

func (w *Window) newAnswer(text string, tapped func()) *answer {
	a := &answer{escape: w.escapeDialog}
	a.Text, a.OnTapped = text, tapped
	a.ExtendBaseWidget(a)
	return a
}

// TypedKey is the toolkit's, but for Enter and Escape.
func (a *answer) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		a.OnTapped()
	default:
		if !a.escape(e.Name) {
			a.Button.TypedKey(e)
		}
	}
}

// stillOver reports whether something still lies over the window.
func (w *Window) stillOver(over fyne.CanvasObject) bool {
	for _, o := range w.win.Canvas().Overlays().List() {
		if o == over {
			return true
		}
	}
	return false
}

// waitForDialogs keeps the shortcut of a menu item from acting behind a dialog
// that waits for an answer.
func (w *Window) waitForDialogs(i *fyne.MenuItem) {
	act := i.Action
	if i.Shortcut == nil || act == nil {
		return
	}
	i.Action = func() {
		if w.win.Canvas().Overlays().Top() == nil {
			act()
		}
	}
}
