package page

import (
	"fyne.io/fyne/v2"
)

// rowsHigh lays a grid out as high as all its rows, for a page that scrolls as a
// whole.
type rowsHigh struct{ grid *Grid }

// Layout is the toolkit's.
func (l *rowsHigh) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.Position{})
		o.Resize(size)
	}
}

// MinSize is the toolkit's.
func (l *rowsHigh) MinSize([]fyne.CanvasObject) fyne.Size {
	g := l.grid
	row := g.newRow().MinSize().Height
	gap := g.list.Theme().Size("padding")
	head := g.head.MinSize().Height + 2*gap
	return fyne.NewSize(120, head+(row+gap)*float32(len(g.table.Rows))+gap)
}
