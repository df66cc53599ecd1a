package page

import (
	"fyne.io/fyne/v2"
)

// rowsHigh lays a grid out as high as all its rows, for a page that scrolls as a
// whole.
type rowsHigh struct {
	grid  *Grid
	rowPx float32 // height of a row
	of    rowKind // that rowPx is of
}

// rowKind is what the height of a row depends on.
type rowKind struct {
	columns         int
	stacked         bool
	textPx, innerPx float32
}

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
	gap := g.list.Theme().Size("padding")
	head := g.head.MinSize().Height + 2*gap
	return fyne.NewSize(120, head+(l.rowHeightPx()+gap)*float32(len(g.table.Rows))+gap)
}

// rowHeightPx measures a row once: the toolkit asks at every frame, and holds
// each row that is made for it for a minute.
func (l *rowsHigh) rowHeightPx() float32 {
	th := l.grid.list.Theme()
	of := rowKind{len(l.grid.table.Columns), l.grid.fit.stacked, th.Size("text"), th.Size("innerPadding")}
	if l.of != of {
		l.of, l.rowPx = of, l.grid.newRow().MinSize().Height
	}
	return l.rowPx
}
