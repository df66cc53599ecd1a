package window

import (
	"context"
	"os"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/layout/gather"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// mostRows is how many parts the confirmation lists; the others are taken as
// guessed. More widgets than that make the dialog slow. Common practice, no
// source.
const mostRows = 150

// askToGather asks for a folder of STL files and makes parts of them.
func (w *Window) askToGather() {
	w.askForFolder(phrase.Of("Make parts of a folder of STL files"), phrase.Of("Look through"), func(path string) { w.gather([]string{path}) })
}

// gather looks through STL files and asks what they are.
func (w *Window) gather(paths []string) {
	w.status.Say(phrase.Of("Looking through STL files …"))
	var p *gather.Proposal
	w.atLength(phrase.Of("Looking through STL files"), strings.Join(paths, "\n"), func(ctx context.Context, progress geom.Progress) (err error) {
		p, err = gather.Propose(ctx, paths, gather.Options{Workers: w.o.Workers, Progress: progress})
		return err
	}, func(err error) {
		w.unlessStopped(err)
		if err == nil {
			w.confirmGathered(paths, p)
		}
	})
}

// confirmGathered shows what the files are taken for, to be changed and
// confirmed.
func (w *Window) confirmGathered(paths []string, p *gather.Proposal) {
	head := widget.NewLabel(desk.GatheredText(p))
	head.Wrapping = fyne.TextWrapWord
	rows := container.NewVBox()
	left := make([]bool, len(p.Parts)) // files that are not taken
	for i := range p.Parts[:min(len(p.Parts), mostRows)] {
		rows.Add(newGatheredRow(&p.Parts[i], func(take bool) { left[i] = !take }))
	}
	if len(p.Parts) > mostRows {
		rows.Add(widget.NewLabel(phrase.Of("The others are taken as guessed; roles and units can be changed in the layout file.")))
	}
	d := dialog.NewCustomWithoutButtons(phrase.Of("Parts from STL files"), container.NewBorder(head, nil, nil, nil, container.NewVScroll(rows)), w.win)
	button := func(says string, main bool, does func()) fyne.CanvasObject {
		b := widget.NewButton(says, func() { d.Hide(); does() })
		if main {
			b.Importance = widget.HighImportance
		}
		return b
	}
	open := w.state.Open && !w.state.ReadOnly
	buttons := []fyne.CanvasObject{button(phrase.Of("Cancel"), false, func() {})}
	if open {
		buttons = append(buttons, button(phrase.Of("Add to this layout"), true, func() {
			w.ifTaken(p, left, func(p *gather.Proposal) {
				w.atLength(phrase.Of("Adding parts"), desk.GatheredText(p), func(ctx context.Context, _ geom.Progress) error {
					return w.desk.AddGathered(ctx, p)
				}, w.unlessStopped)
			})
		}))
	}
	buttons = append(buttons, button(phrase.Of("New layout…"), !open, func() {
		w.ifTaken(p, left, func(p *gather.Proposal) { w.newFrom(paths, p) })
	}))
	d.SetButtons(buttons)
	room := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(room.Width*0.9, room.Height*0.9))
	w.showClosable(d)
}

// ifTaken goes on with the parts that are taken, if there is any.
func (w *Window) ifTaken(p *gather.Proposal, left []bool, then func(p *gather.Proposal)) {
	taken := desk.Taken(p, left)
	if len(taken.Parts) == 0 {
		w.showError(desk.ErrNothingTaken)
		return
	}
	then(taken)
}

// newFrom makes a layout of what was gathered: in the folder that was looked
// through, or in one that is asked for.
func (w *Window) newFrom(paths []string, p *gather.Proposal) {
	write := func(path string) {
		w.afterSaving(func() {
			w.open(desk.Ask, func() (string, error) { return path, p.Write(w.context, path) })
		})
	}
	elsewhere := func() { w.askForFolder(phrase.Of("Make the layout in a folder"), phrase.Of("Make it here"), write) }
	if info, err := os.Stat(paths[0]); len(paths) > 1 || err != nil || !info.IsDir() {
		elsewhere()
		return
	}
	w.ask(phrase.Of("Where?"), phrase.Of("The layout file can lie beside the meshes, in ")+paths[0]+phrase.Of(", or the meshes are copied into another folder."), "",
		choice{says: phrase.Of("Cancel")},
		choice{says: phrase.Of("Another folder…"), does: elsewhere},
		choice{says: phrase.Of("Beside the meshes"), main: true, does: func() { write(paths[0]) }},
	)
}

// newGatheredRow shows one part with what can be changed.
func newGatheredRow(p *gather.Part, took func(take bool)) fyne.CanvasObject {
	take := widget.NewCheck("", took)
	take.Checked = true
	size := widget.NewLabel(desk.GatheredSize(p))
	name := widget.NewEntry()
	name.SetText(p.Name)
	name.OnChanged = func(to string) { p.Name = to }
	role := widget.NewSelectEntry(append(layout.Roles(), gather.RoleOther))
	role.SetText(p.Role)
	role.OnChanged = func(to string) { p.Role = to }
	unit := widget.NewSelect([]string{"mm", "cm", "m", "in"}, nil)
	unit.SetSelected(p.Unit)
	unit.OnChanged = func(to string) {
		p.Unit = to
		size.SetText(desk.GatheredSize(p))
	}
	text, doubt := desk.GatheredWhy(p)
	why := widget.NewLabel(text)
	why.Wrapping = fyne.TextWrapWord
	why.Importance = widget.LowImportance
	if doubt {
		why.Importance = widget.WarningImportance
	}
	fields := container.NewGridWithColumns(4, name, role, unit, size)
	return container.NewVBox(container.NewBorder(nil, nil, take, nil, fields), why, widget.NewSeparator())
}
