package window

import (
	"context"
	"errors"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/phrase"
)

// errNothingSelected asks for a selection.
var errNothingSelected = say.New("select the part first: click it in the scene or in the list")

// placing are the items of the menu that place what is selected.
func (w *Window) placing() []*fyne.MenuItem {
	return []*fyne.MenuItem{
		item(phrase.Of("Move until…"), control(fyne.KeyU, 0), w.askUntil),
		item(phrase.Of("Place by three points"), control(fyne.KeyK, 0), w.startPoints),
		fyne.NewMenuItem(phrase.Of("Copy the part"), w.copySelected),
		fyne.NewMenuItem(phrase.Of("Mirror across the middle of the car"), w.mirrorSelected),
		fyne.NewMenuItem(phrase.Of("Group…"), w.askForGroup),
		fyne.NewMenuItem(phrase.Of("Take out of its group"), func() { w.withSelected(func(parts []string) { w.group(parts, "") }) }),
	}
}

// selected returns the parts that are selected.
func (w *Window) selected() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return slices.Clone(w.at.Selected)
}

// withSelected does something with what is selected, or asks to select.
func (w *Window) withSelected(do func(parts []string)) {
	if parts := w.selected(); len(parts) > 0 {
		do(parts)
		return
	}
	w.showError(errNothingSelected)
}

// askUntil asks how far what is selected shall move.
func (w *Window) askUntil() {
	w.withSelected(func(parts []string) {
		load := desk.LoadOf(&w.state, parts, w.menu.group.Checked)
		form := page.NewUntil(&w.state, load, func(u desk.Until, done func(says string, err error)) {
			var says string
			w.atLength(phrase.Of("Move until"), desk.UntilAsks(load), func(ctx context.Context, progress geom.Progress) (err error) {
				says, err = w.desk.MoveUntil(ctx, u, progress)
				return err
			}, func(err error) {
				if errors.Is(err, context.Canceled) {
					says, err = phrase.Of("Cancelled: nothing has moved."), nil
				}
				done(says, err)
			})
		})
		d := dialog.NewCustom(phrase.Of("Move until"), phrase.Of("Close"), form, w.win)
		d.Resize(fyne.NewSize(460, 360))
		w.showClosable(d)
	})
}

// copySelected copies what is selected and selects the copies.
func (w *Window) copySelected() { w.made(w.desk.CopyParts) }

// mirrorSelected mirrors what is selected and selects the images.
func (w *Window) mirrorSelected() { w.made(w.desk.MirrorParts) }

// made makes parts of those selected, beside, and selects them.
func (w *Window) made(make func(parts []string) ([]string, error)) {
	w.withSelected(func(parts []string) {
		w.edits.do("", func() {
			names, err := make(parts)
			if err != nil {
				w.told(err)
				return
			}
			w.Look(func(a *desk.Attention) { a.Selected = names })
		})
	})
}

func (w *Window) group(parts []string, name string) {
	w.edit(func() error { return w.desk.GroupParts(parts, name) })
}

// askForGroup asks for the group that what is selected shall belong to.
func (w *Window) askForGroup() {
	w.withSelected(func(parts []string) {
		name := widget.NewSelectEntry(desk.GroupNames(&w.state))
		name.SetPlaceHolder(phrase.Of("name of the group, a new one or one that there is"))
		d := dialog.NewCustomConfirm(phrase.Of("Group the selected parts"), phrase.Of("Group"), phrase.Of("Cancel"), container.NewVBox(name), func(yes bool) {
			if yes && name.Text != "" {
				w.group(parts, name.Text)
			}
		}, w.win)
		name.OnSubmitted = func(string) { d.Confirm() }
		d.Resize(fyne.NewSize(440, 180))
		w.showClosable(d)
		w.win.Canvas().Focus(name)
	})
}
