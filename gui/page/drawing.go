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

// byNeed lays objects one below the other, each as high as it needs; what room is
// left is shared out alike.
type byNeed struct{}

// Layout is the toolkit's.
func (byNeed) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) == 0 {
		return
	}
	spare := size.Height
	for _, o := range objects {
		spare -= o.MinSize().Height
	}
	spare = max(0, spare/float32(len(objects)))
	y := float32(0)
	for _, o := range objects {
		high := o.MinSize().Height + spare
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, high))
		y += high
	}
}

// MinSize is the toolkit's.
func (byNeed) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		least := o.MinSize()
		size = fyne.NewSize(max(size.Width, least.Width), size.Height+least.Height)
	}
	return size
}
