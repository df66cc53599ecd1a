package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/revision"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// keepRevision asks for a name and a reason and keeps the layout as it is.
func (w *Window) keepRevision() {
	name, reason := w.newField(), w.newField()
	reason.MultiLine = true
	name.SetPlaceHolder(phrase.Of("B; empty for a number"))
	reason.SetPlaceHolder(phrase.Of("why this state is kept"))
	reason.Wrapping = fyne.TextWrapWord
	reason.SetMinRowsVisible(3)
	items := []*widget.FormItem{widget.NewFormItem(phrase.Of("Name"), name), widget.NewFormItem(phrase.Of("Reason"), reason)}
	d := dialog.NewForm(phrase.Of("Keep a revision"), phrase.Of("Keep"), phrase.Of("Cancel"), items, func(ok bool) {
		if !ok {
			return
		}
		w.edits.do("", func() {
			r, err := w.desk.KeepRevision(name.Text, reason.Text)
			if err != nil {
				w.told(err)
				return
			}
			w.o.onMain(func() { w.status.Say(phrase.Of("Kept revision ") + r.Label() + " in " + r.Folder) })
		})
	}, w.win)
	d.Resize(fyne.NewSize(520, 260))
	w.showClosable(d)
	w.win.Canvas().Focus(name)
}

// showRevisions lists what is kept, with a way back to each.
func (w *Window) showRevisions() {
	w.edits.do("", func() {
		list, err := w.desk.Revisions()
		if err != nil {
			w.told(err)
			return
		}
		w.o.onMain(func() { w.listRevisions(list) })
	})
}

func (w *Window) listRevisions(list []revision.Revision) {
	if len(list) == 0 {
		w.showText(phrase.Of("Revisions"), phrase.Of("None is kept yet: File, Keep a revision."))
		return
	}
	var d *dialog.CustomDialog
	rows := container.NewVBox()
	for i := range list {
		r := &list[i]
		heading, reason := desk.RevisionText(r)
		title := widget.NewLabelWithStyle(heading, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
		title.Wrapping = fyne.TextWrapWord
		why := widget.NewLabel(reason)
		why.Wrapping = fyne.TextWrapWord
		restore := widget.NewButton(phrase.Of("Restore"), func() {
			d.Hide()
			w.edit(func() error { return w.desk.RestoreRevision(r) })
		})
		if w.state.ReadOnly {
			restore.Disable()
		}
		rows.Add(container.NewBorder(nil, widget.NewSeparator(), nil, container.NewCenter(restore), container.NewVBox(title, why)))
	}
	head := widget.NewLabel(phrase.Of("Restoring is an edit that can be undone; no file is changed."))
	head.Wrapping = fyne.TextWrapWord
	d = dialog.NewCustom(phrase.Of("Revisions"), phrase.Of("Close"), container.NewBorder(head, nil, nil, nil, container.NewVScroll(rows)), w.win)
	room := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(640, room.Width*0.9), min(480, room.Height*0.85)))
	w.showClosable(d)
}
