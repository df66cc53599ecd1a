package window

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/settings"
)

// Open puts a layout into the window, beside; a fault is shown and the window
// stays as it was.
func (w *Window) Open(path string) { w.openAs(path, desk.Ask) }

// openAs is Open with a word about edits that an earlier end has left.
func (w *Window) openAs(path string, choice desk.Choice) {
	w.open(choice, func() (string, error) { return path, nil })
}

// OpenDemo writes a variant of the demo and opens it.
func (w *Window) OpenDemo(variant string) {
	w.tourWaits = true
	w.open(desk.Ask, func() (string, error) { return w.o.Demo(variant) })
}

// mostWelcomed is how many of the layouts opened last are offered at the start;
// the menu has all. Common practice, no source.
const mostWelcomed = 3

// newWelcome offers what to do first.
func (w *Window) newWelcome() fyne.CanvasObject {
	open := widget.NewButton(phrase.Of("Open layout folder…"), w.askForLayout)
	stl := widget.NewButton(phrase.Of("Start from STL files…"), w.askToGather)
	rows := container.NewVBox(widget.NewLabelWithStyle(phrase.Of("What fits, how low, how hot, mounted where?"), fyne.TextAlignCenter, fyne.TextStyle{Bold: true}), open, stl)
	if w.o.Demo != nil && len(w.o.Variants) > 0 {
		last := w.o.Variants[len(w.o.Variants)-1]
		demo := widget.NewButton(phrase.Of("Open the demo"), func() { w.OpenDemo(last) })
		demo.Importance = widget.HighImportance
		rows.Add(demo)
	}
	for _, path := range w.recent()[:min(len(w.recent()), mostWelcomed)] {
		rows.Add(widget.NewButton(w.recentText(path), func() { w.Open(path) }))
	}
	rows.Add(widget.NewLabelWithStyle(phrase.Of("or drop a layout folder, an .aftbay file or STL files here"), fyne.TextAlignCenter, fyne.TextStyle{}))
	return container.NewCenter(rows)
}

func (w *Window) open(choice desk.Choice, find func() (path string, err error)) {
	w.status.Say(phrase.Of("Opening …"))
	w.welcome.Hide()
	w.showOpening()
	left, any := w.view()
	if any {
		w.o.Remembered.Looked(left)
	}
	w.edits.do("", func() {
		if any {
			w.keepSettings(func(s *settings.Settings) { s.Looked(left) })
		}
		path, err := find()
		if err == nil {
			err = w.desk.OpenToWork(context.Background(), path, choice)
		}
		w.o.onMain(w.endOpening)
		var pending *desk.Pending
		switch {
		case errors.Is(err, context.Canceled):
			w.o.onMain(func() { w.notOpened(nil) })
			return
		case errors.As(err, &pending):
			w.o.onMain(func() { w.notOpened(nil); w.askToRecover(path, &pending.Recovery) })
			return
		case err != nil:
			w.o.onMain(func() { w.notOpened(err) })
			return
		}
		w.remember(path)
		w.o.onMain(w.recallView)
	})
}

// notOpened says why a layout did not open, if there is more to say; the window
// stays as it was.
func (w *Window) notOpened(err error) {
	if !w.state.Open {
		w.welcome.Show()
	}
	w.changed()
	if err != nil {
		w.showError(err)
	}
}

// dropped opens what was dropped on the window, or makes parts of it.
func (w *Window) dropped(uris []fyne.URI) {
	var paths []string
	for _, u := range uris {
		paths = append(paths, u.Path())
	}
	switch {
	case len(paths) == 0:
	case desk.Gatherable(paths):
		w.gather(paths)
	default:
		w.afterSaving(func() { w.Open(paths[0]) })
	}
}

// showError shows an error, one fault a line.
func (w *Window) showError(err error) {
	words := phrase.Err(err)
	text := widget.NewLabel(words)
	text.Wrapping = fyne.TextWrapWord
	lines := strings.Count(words, "\n") + 1 + len(words)/90
	w.showCopyable(phrase.Of("That did not work"), text, words, fyne.NewSize(640, min(520, 150+26*float32(lines))))
}

func (w *Window) showText(title, text string) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	w.showCopyable(title, label, text, fyne.NewSize(760, 440))
}

// showCopyable shows something to read that scrolls, with a button that copies it
// as text. Text that is selected by the pointer would keep Escape to itself.
func (w *Window) showCopyable(title string, content fyne.CanvasObject, text string, size fyne.Size) {
	d := dialog.NewCustomWithoutButtons(title, container.NewVScroll(content), w.win)
	shut := w.newAnswer(phrase.Of("Close"), d.Hide)
	d.SetButtons([]fyne.CanvasObject{w.newAnswer(phrase.Of("Copy the text"), func() { w.app.Clipboard().SetContent(text) }), shut})
	room := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(size.Width, room.Width*0.9), min(size.Height, room.Height*0.9)))
	w.showClosable(d)
	w.win.Canvas().Focus(shut)
}

// askForLayout asks for a folder and opens it.
func (w *Window) askForLayout() {
	w.afterSaving(func() {
		w.askForFolder(phrase.Of("Open a layout folder"), phrase.Of("Open"), func(path string) { w.Open(path) })
	})
}

func (w *Window) askForFolder(title, confirm string, then func(path string)) {
	d := dialog.NewFolderOpen(func(u fyne.ListableURI, err error) {
		switch {
		case err != nil:
			w.showError(err)
		case u != nil:
			then(u.Path())
		}
	}, w.win)
	d.SetTitleText(title)
	d.SetConfirmText(confirm)
	w.showWide(d)
}

// askForPacked asks for a packed layout and opens it.
func (w *Window) askForPacked() {
	w.afterSaving(func() {
		d := dialog.NewFileOpen(func(file fyne.URIReadCloser, err error) {
			switch {
			case err != nil:
				w.showError(err)
			case file != nil:
				_ = file.Close() // only its place is of use
				w.Open(file.URI().Path())
			}
		}, w.win)
		d.SetTitleText(phrase.Of("Open a packed layout"))
		d.SetFilter(storage.NewExtensionFileFilter([]string{layout.PackedExt}))
		w.showWide(d)
	})
}

// savePacked asks for a file and saves the layout with its meshes into it.
func (w *Window) savePacked() {
	d := dialog.NewFileSave(func(file fyne.URIWriteCloser, err error) {
		switch {
		case err != nil:
			w.showError(err)
		case file != nil:
			path := file.URI().Path()
			_ = file.Close() // the layout is put in its place whole
			if !strings.EqualFold(filepath.Ext(path), layout.PackedExt) {
				_ = os.Remove(path) // made by the dialog, empty
				path += layout.PackedExt
			}
			w.edit(func() error { return w.saveTo(path) })
		}
	}, w.win)
	d.SetTitleText(phrase.Of("Save as one packed file"))
	d.SetFileName("layout" + layout.PackedExt)
	w.showWide(d)
}

// showWide shows a file dialog at a size in which names can be read, beside the
// layout that is open.
func (w *Window) showWide(d *dialog.FileDialog) {
	beside := w.o.Remembered.LastFolder
	if w.state.Open {
		beside = filepath.Dir(w.state.Path)
	}
	if at, err := storage.ListerForURI(storage.NewFileURI(beside)); err == nil && beside != "" {
		d.SetLocation(at)
	}
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(size.Width*0.7, size.Height*0.7))
	w.showClosable(d)
}

// saveAs asks for a folder and saves there.
func (w *Window) saveAs() {
	w.askForFolder(phrase.Of("Save the layout into a folder"), phrase.Of("Save here"), func(path string) {
		w.ifFree(path, func() { w.edit(func() error { return w.saveTo(path) }) })
	})
}
