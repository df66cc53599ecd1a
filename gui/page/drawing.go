package page

import "fyne.io/fyne/v2"

// drawing is the common part of renderers that draw all they show anew, for the
// size they have.
type drawing struct {
	of      fyne.CanvasObject // the widget
	redraw  func()
	size    fyne.Size
	objects []fyne.CanvasObject
}

// Layout is the toolkit's.
func (d *drawing) Layout(size fyne.Size) {
	if size != d.size {
		d.size = size
		d.redraw()
	}
}

// MinSize is the toolkit's.
func (d *drawing) MinSize() fyne.Size { return d.of.MinSize() }

// Objects is the toolkit's.
func (d *drawing) Objects() []fyne.CanvasObject { return d.objects }

// Destroy is the toolkit's.
func (d *drawing) Destroy() {}
