package window

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"aftbay/gui/phrase"
)

// BringMesh asks for an STL file and tells by which path the layout may name it.
func (w *Window) BringMesh(done func(rel string)) {
	d := dialog.NewFileOpen(func(file fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			w.showError(err)
		case file != nil:
			_ = file.Close() // only its place is of use
			w.bringMesh(file.URI().Path(), done)
		}
	}, w.win)
	d.SetTitleText(phrase.Of("Mesh of the part"))
	d.SetFilter(storage.NewExtensionFileFilter([]string{".stl", ".STL"}))
	w.showWide(d)
}

// bringMesh makes a file ready to be named.
func (w *Window) bringMesh(path string, done func(rel string)) {
	w.edits.do("", func() {
		rel, err := w.desk.BringMesh(path)
		w.o.onMain(func() {
			if err != nil {
				w.showError(err)
				return
			}
			w.o.Remembered.LastFolder = filepath.Dir(path)
			done(rel)
		})
	})
}
