package window

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// exportPacket asks for what the cover says and a folder, and writes the packet.
func (w *Window) exportPacket() {
	revision, author := w.newField(), w.newField()
	revision.SetPlaceHolder("A")
	paper := widget.NewRadioGroup([]string{"A4", phrase.Of("US Letter")}, nil)
	paper.Horizontal, paper.Required, paper.Selected = true, true, "A4"
	items := []*widget.FormItem{
		widget.NewFormItem(phrase.Of("Revision"), revision),
		widget.NewFormItem(phrase.Of("Author"), author),
		widget.NewFormItem(phrase.Of("Paper"), paper),
	}
	d := dialog.NewForm(phrase.Of("Export packet"), phrase.Of("Choose folder…"), phrase.Of("Cancel"), items, func(ok bool) {
		if !ok {
			return
		}
		o := desk.PacketOptions{Date: time.Now(), Revision: revision.Text, Author: author.Text, Letter: paper.Selected != "A4"}
		w.askForFolder(phrase.Of("Write the packet into a folder"), phrase.Of("Write here"), func(path string) { w.writePacket(freeFolder(path, o.Date), o) })
	}, w.win)
	d.Resize(fyne.NewSize(460, 260))
	w.showClosable(d)
	w.win.Canvas().Focus(revision)
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
	l, ctx := w.newLong(phrase.Of("Writing the packet"), path)
	o.Progress = l.progress()
	w.o.beside(func() {
		files, err := w.desk.Packet(ctx, path, o)
		w.o.onMain(func() {
			l.end()
			if err != nil {
				w.unlessStopped(err)
				return
			}
			w.showText(phrase.Of("Packet written"), phrase.Of("In ")+path+":\n\n"+strings.Join(within(path, files), "\n"))
		})
	})
}
