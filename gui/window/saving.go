package window

import (
	"context"
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// choice is one button of a question.
type choice struct {
	says string
	main bool   // what most will want
	does func() // nil: nothing
}

// ask puts a question with an answer to each button; Escape is the first, which
// does nothing, Enter the main one. more, which may be "", is a longer text that
// scrolls.
func (w *Window) ask(title, text, more string, choices ...choice) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	content := fyne.CanvasObject(label)
	size := fyne.NewSize(560, 200)
	if more != "" {
		list := widget.NewLabel(more)
		content = container.NewBorder(label, nil, nil, nil, container.NewVScroll(list))
		size = fyne.NewSize(680, min(440, 300+18*float32(strings.Count(more, "\n"))))
	}
	d := dialog.NewCustomWithoutButtons(title, content, w.win)
	var buttons []fyne.CanvasObject
	var first fyne.Focusable
	for _, c := range choices {
		b := w.newAnswer(c.says, func() {
			d.Hide()
			if c.does != nil {
				c.does()
			}
		})
		if c.main {
			b.Importance, first = widget.HighImportance, b
		}
		buttons = append(buttons, b)
	}
	d.SetButtons(buttons)
	room := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(size.Width, room.Width*0.9), min(size.Height, room.Height*0.85)))
	w.showClosable(d)
	if first != nil {
		w.win.Canvas().Focus(first)
	}
}

// afterSaving does something that would lose unsaved changes, once the reader
// has decided about them.
func (w *Window) afterSaving(then func()) {
	if !w.desk.State().Unsaved {
		then()
		return
	}
	w.ask(phrase.Of("Save first?"), phrase.Of("The layout has changes that are not saved. Discarded ones are set aside in its folder: File, Take up edits set aside."), "",
		choice{says: phrase.Of("Stay")},
		choice{says: phrase.Of("Discard changes"), does: then},
		choice{says: phrase.Of("Save"), main: true, does: func() { w.saveThen(then) }},
	)
}

// askToClose closes the window, after asking for unsaved changes.
func (w *Window) askToClose() {
	w.afterSaving(func() {
		if w.closing {
			return
		}
		w.closing = true
		w.rememberWindow()
		if w.desk.State().Unsaved { // discarded
			_ = w.desk.SetAside() // else they are offered at the next start
		}
		w.endReview()
		w.ended.Store(true)
		w.win.Close()
	})
}

func (w *Window) save() { w.saveThen(func() {}) }

// saveThen saves and goes on; a file that others have changed is asked about.
func (w *Window) saveThen(then func()) {
	w.edits.do("", func() {
		switch err := w.desk.Save(); {
		case errors.Is(err, desk.ErrChangedOutside):
			w.o.onMain(func() { w.askToSaveOver(then) })
		case err != nil:
			w.told(err)
		default:
			w.o.onMain(then)
		}
	})
}

func (w *Window) askToSaveOver(then func()) {
	w.ask(phrase.Of("Save over it?"), phrase.Of("The layout's file was changed by another program since it was opened or saved here. Reloading takes that in as an edit that can be undone; saving over it keeps it as the backup."), "",
		choice{says: phrase.Of("Cancel")},
		choice{says: phrase.Of("Reload"), main: true, does: w.reload},
		choice{says: phrase.Of("Save over it"), does: func() {
			w.edits.do("", func() {
				if err := w.desk.SaveOver(); err != nil {
					w.told(err)
					return
				}
				w.o.onMain(then)
			})
		}},
	)
}

// ifFree does what writes a layout to a place, after asking if one is there.
func (w *Window) ifFree(path string, then func()) {
	there := desk.Occupied(path)
	if there == "" || w.state.Open && path == w.state.Path {
		then()
		return
	}
	w.ask(phrase.Of("Save over it?"), there, "", choice{says: phrase.Of("Cancel")}, choice{says: phrase.Of("Save over it"), does: then})
}

// saveTo saves elsewhere and goes on from there. It is called beside.
func (w *Window) saveTo(path string) error {
	w.o.onMain(func() { w.fitted = path }) // it is looked at as before
	if err := w.desk.SaveAs(path); err != nil {
		return err
	}
	w.remember(path)
	return nil
}

func (w *Window) reload() {
	w.atLength(phrase.Of("Reading the layout again"), w.state.Path, func(ctx context.Context, _ geom.Progress) error {
		return w.desk.Reload(ctx)
	}, w.unlessStopped)
}
