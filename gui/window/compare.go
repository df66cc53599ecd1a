package window

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/revision"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Compare asks what to compare the layout with: itself as opened, one of its
// revisions, or another layout.
func (w *Window) Compare() {
	w.edits.do("", func() {
		list, err := w.desk.Revisions()
		if err != nil {
			list = nil // a packed layout has none; the other choices stay
		}
		w.o.onMain(func() { w.askToCompare(list) })
	})
}

func (w *Window) askToCompare(list []revision.Revision) {
	var d *dialog.CustomDialog
	rows := container.NewVBox(widget.NewButton(phrase.Of("The layout as opened"), func() {
		d.Hide()
		w.desk.CompareWithOpening()
	}))
	for i := range list {
		heading, _ := desk.RevisionText(&list[i])
		rows.Add(widget.NewButton(phrase.Of("Revision ")+heading, func() {
			d.Hide()
			w.compareWith(desk.RevisionFolder(w.state.Path, &list[i]))
		}))
	}
	rows.Add(widget.NewButton(phrase.Of("Another layout…"), func() {
		d.Hide()
		w.askForFolder(phrase.Of("Compare with a layout folder"), phrase.Of("Compare"), w.compareWith)
	}))
	d = dialog.NewCustom(phrase.Of("Compare with"), phrase.Of("Cancel"), container.NewVScroll(rows), w.win)
	room := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(520, room.Width*0.9), min(420, room.Height*0.85)))
	w.showClosable(d)
}

func (w *Window) compareWith(path string) {
	w.status.Say(phrase.Of("Comparing …"))
	w.atLength(phrase.Of("Comparing"), path, func(ctx context.Context, progress geom.Progress) error {
		return w.desk.CompareWith(ctx, path, progress)
	}, w.unlessStopped)
}

// Decide settles a finding.
func (w *Window) Decide(of layout.Decision, failed func(err error)) {
	w.edits.do("", func() {
		if err := w.desk.Decide(of); err != nil {
			w.o.onMain(func() { failed(err) })
		}
	})
}

// askForDecisions takes in a findings table that was filled in.
func (w *Window) askForDecisions() {
	d := dialog.NewFileOpen(func(in fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			w.showError(err)
			return
		case in == nil:
			return
		}
		path := in.URI().Path()
		_ = in.Close() // only its place is of use
		w.edits.do("", func() {
			list, err := desk.ReadDecisions(path)
			if err == nil {
				err = w.desk.TakeDecisions(list)
			}
			w.told(err)
		})
	}, w.win)
	d.SetTitleText(phrase.Of("Take in decisions from a findings table"))
	d.SetFilter(storage.NewExtensionFileFilter([]string{".csv", ".xlsx"}))
	w.showWide(d)
}
