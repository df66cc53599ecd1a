package window

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Open puts a layout into the window, beside; a fault is shown and the window
// stays as it was.
func (w *Window) Open(path string) {
	w.open(func() (string, error) { return path, nil })
}

// OpenDemo writes a variant of the demo and opens it.
func (w *Window) OpenDemo(variant string) {
	w.open(func() (string, error) { return w.o.Demo(variant) })
}

func (w *Window) open(find func() (path string, err error)) {
	w.status.Say("Opening …")
	w.edits.do("", func() {
		path, err := find()
		if err == nil {
			err = w.desk.Open(context.Background(), path)
		}
		if err != nil {
			w.told(err)
			w.changed()
			return
		}
		w.Look(func(a *desk.Attention) { *a = desk.Attention{Page: a.Page, Ghost: a.Ghost, Shells: a.Shells} })
	})
}

// dropped opens what was dropped on the window.
func (w *Window) dropped(uris []fyne.URI) {
	if len(uris) > 0 {
		w.afterSaving(func() { w.Open(uris[0].Path()) })
	}
}

// showError shows an error, one fault a line.
func (w *Window) showError(err error) {
	text := widget.NewLabel(err.Error())
	text.Wrapping = fyne.TextWrapWord
	text.Selectable = true
	d := dialog.NewCustom("That did not work", "Close", container.NewVScroll(text), w.win)
	lines := strings.Count(err.Error(), "\n") + 1 + len(err.Error())/90
	d.Resize(fyne.NewSize(640, min(520, 150+26*float32(lines))))
	d.Show()
}

func (w *Window) showText(title, text string) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(title, "Close", container.NewVScroll(label), w.win)
	d.Resize(fyne.NewSize(760, 440))
	d.Show()
}

// askForLayout asks for a folder and opens it.
func (w *Window) askForLayout() {
	w.afterSaving(func() {
		w.askForFolder("Open a layout folder", "Open", func(path string) { w.Open(path) })
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
	d.SetView(dialog.ListView)
	if w.state.Open {
		if at, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(w.state.Path))); err == nil {
			d.SetLocation(at)
		}
	}
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(size.Width*0.7, size.Height*0.7))
	d.Show()
}

// afterSaving does something that would lose unsaved changes, once the reader
// has decided about them.
func (w *Window) afterSaving(then func()) {
	if !w.desk.State().Unsaved {
		then()
		return
	}
	text := widget.NewLabel("The layout has changes that are not saved.")
	d := dialog.NewCustomWithoutButtons("Save first?", text, w.win)
	save := widget.NewButton("Save", func() {
		d.Hide()
		w.edits.do("", func() {
			if err := w.desk.Save(); err != nil {
				w.told(err)
				return
			}
			w.o.onMain(then)
		})
	})
	save.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{
		widget.NewButton("Stay", func() { d.Hide() }),
		widget.NewButton("Discard changes", func() { d.Hide(); then() }),
		save,
	})
	d.Show()
}

// askToClose closes the window, after asking for unsaved changes.
func (w *Window) askToClose() {
	w.afterSaving(func() {
		if !w.closing {
			w.closing = true
			w.win.Close()
		}
	})
}

func (w *Window) save() { w.edit(w.desk.Save) }

// saveAs asks for a folder and saves there; then may be nil.
func (w *Window) saveAs(then func()) {
	w.askForFolder("Save the layout into a folder", "Save here", func(path string) {
		w.edit(func() error {
			err := w.desk.SaveAs(path)
			if err == nil && then != nil {
				w.o.onMain(then)
			}
			return err
		})
	})
}

// exportPacket asks for what the cover says and a folder, and writes the packet.
func (w *Window) exportPacket() {
	revision, author := widget.NewEntry(), widget.NewEntry()
	revision.SetPlaceHolder("A")
	paper := widget.NewRadioGroup([]string{"A4", "US Letter"}, nil)
	paper.Horizontal, paper.Required, paper.Selected = true, true, "A4"
	items := []*widget.FormItem{
		widget.NewFormItem("Revision", revision),
		widget.NewFormItem("Author", author),
		widget.NewFormItem("Paper", paper),
	}
	d := dialog.NewForm("Export packet", "Choose folder…", "Cancel", items, func(ok bool) {
		if !ok {
			return
		}
		o := desk.PacketOptions{Date: time.Now(), Revision: revision.Text, Author: author.Text, Letter: paper.Selected != "A4"}
		w.askForFolder("Write the packet into a folder", "Write here", func(path string) { w.writePacket(freeFolder(path, o.Date), o) })
	}, w.win)
	d.Resize(fyne.NewSize(460, 260))
	d.Show()
}

// freeFolder returns a folder inside another that is not there yet, named after
// the day.
func freeFolder(in string, day time.Time) string {
	name := filepath.Join(in, "packet-"+day.Format(time.DateOnly))
	path := name
	for n := 2; ; n++ {
		if _, err := os.Stat(path); err != nil {
			return path
		}
		path = fmt.Sprintf("%s-%d", name, n)
	}
}

// within returns paths as seen from a folder.
func within(folder string, paths []string) []string {
	var out []string
	for _, p := range paths {
		if rel, err := filepath.Rel(folder, p); err == nil {
			p = rel
		}
		out = append(out, p)
	}
	return out
}

// writePacket writes the packet beside, with a way to stop it.
func (w *Window) writePacket(path string, o desk.PacketOptions) {
	ctx, cancel := context.WithCancel(context.Background())
	bar := widget.NewProgressBarInfinite()
	busy := dialog.NewCustom("Writing the packet", "Cancel", container.NewVBox(widget.NewLabel(path), bar), w.win)
	busy.SetOnClosed(cancel)
	busy.Resize(fyne.NewSize(460, 160))
	busy.Show()
	w.o.beside(func() {
		files, err := w.desk.Packet(ctx, path, o)
		w.o.onMain(func() {
			cancelled := ctx.Err() != nil
			bar.Stop()
			busy.Hide()
			switch {
			case err != nil && (cancelled || errors.Is(err, context.Canceled)):
			case err != nil:
				w.showError(err)
			default:
				w.showText("Packet written", "In "+path+":\n\n"+strings.Join(within(path, files), "\n"))
			}
		})
	})
}
