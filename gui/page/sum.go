package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Sum shows a table of one row as a line of figures, each below its head. Where
// the room is short the letters shrink; an empty one takes no room.
type Sum struct {
	widget.BaseWidget
	heads, cells []string
}

// NewSum returns an empty line of figures.
func NewSum() *Sum {
	s := &Sum{}
	s.ExtendBaseWidget(s)
	s.Hide()
	return s
}

// SetTable shows the first row of a table.
func (s *Sum) SetTable(t desk.Table) {
	var heads, cells []string
	if len(t.Rows) > 0 {
		cells = t.Rows[0].Cells
		for _, c := range t.Columns {
			heads = append(heads, c.Head)
		}
	}
	if slices.Equal(heads, s.heads) && slices.Equal(cells, s.cells) {
		return
	}
	s.heads, s.cells = heads, cells
	s.Hidden = len(cells) == 0
	s.Refresh()
}

// Texts returns heads and figures as shown.
func (s *Sum) Texts() (heads, cells []string) { return s.heads, s.cells }

// CreateRenderer is the toolkit's.
func (s *Sum) CreateRenderer() fyne.WidgetRenderer {
	r := &sumRenderer{sum: s}
	r.Refresh()
	return r
}

type sumRenderer struct {
	sum     *Sum
	texts   []*canvas.Text // the heads, then the cells
	objects []fyne.CanvasObject
	size    fyne.Size
}

const (
	leastSum  = 0.7 // how far the letters may shrink to fit
	widestGap = 3   // between two figures, in pads
)

func (r *sumRenderer) small() float32 { return sizeOf(r.sum, fynetheme.SizeNameCaptionText) }
func (r *sumRenderer) large() float32 { return sizeOf(r.sum, fynetheme.SizeNameText) }
func (r *sumRenderer) pad() float32   { return sizeOf(r.sum, fynetheme.SizeNameInnerPadding) }

func (r *sumRenderer) MinSize() fyne.Size {
	return fyne.NewSize(60, 1.5*r.small()+1.5*r.large()+r.pad())
}

// widths returns how wide each column is, and all of them.
func (r *sumRenderer) widths() (columns []float32, sum float32) {
	head, cell := sized(r.small(), fyne.TextStyle{Bold: true}), sized(r.large(), fyne.TextStyle{})
	for k := range r.sum.cells {
		wide := max(head(r.sum.heads[k]), cell(r.sum.cells[k]))
		columns = append(columns, wide)
		sum += wide
	}
	return columns, sum
}

func (r *sumRenderer) Layout(size fyne.Size) {
	r.size = size
	columns, sum := r.widths()
	n := len(columns)
	if n == 0 {
		return
	}
	room := size.Width - 2*r.pad()
	gap := min(max((room-sum)/float32(n), r.pad()), widestGap*r.pad())
	shrink := min(max(room/(sum+gap*float32(n-1)), leastSum), 1)
	top := r.pad() / 2
	right := r.pad()
	for k := range columns {
		right += columns[k] * shrink
		for i, text := range []*canvas.Text{r.texts[k], r.texts[n+k]} {
			letters, y := r.small()*shrink, top
			if i == 1 {
				letters, y = r.large()*shrink, top+1.5*r.small()
			}
			text.TextSize = letters
			wide := sized(letters, text.TextStyle)(text.Text)
			text.Move(fyne.NewPos(right-wide, y))
		}
		right += gap * shrink
	}
}

func (r *sumRenderer) Refresh() {
	n := len(r.sum.cells)
	for len(r.texts) < 2*n {
		r.texts = append(r.texts, &canvas.Text{})
	}
	r.texts = r.texts[:2*n]
	r.objects = nil
	for k, text := range r.texts {
		if k < n {
			text.Text, text.TextStyle = r.sum.heads[k], fyne.TextStyle{Bold: true}
			text.Color = colorOf(r.sum, fynetheme.ColorNamePlaceHolder)
		} else {
			text.Text, text.TextStyle = r.sum.cells[k-n], fyne.TextStyle{}
			text.Color = colorOf(r.sum, fynetheme.ColorNameForeground)
		}
		r.objects = append(r.objects, text)
	}
	r.Layout(r.size)
	for _, text := range r.texts {
		text.Refresh()
	}
}

func (r *sumRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *sumRenderer) Destroy()                     {}
