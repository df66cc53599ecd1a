package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// Grid shows the rows of a desk table, each with the sign of its verdict. The
// columns are as wide as their texts; where the room is short the columns of
// words give way, those of numbers never.
type Grid struct {
	widget.BaseWidget
	OnRow  func(row desk.Row) // a row was chosen by hand
	OnSort func(column int)   // a head was pressed, from 1; nil: the grid sorts itself

	given   desk.Table // as it was set
	table   desk.Table // as it is sorted
	sorted  desk.Finder
	fit     *columns
	head    *fyne.Container
	top     *fyne.Container // head with its line
	list    *rowList
	empty   *widget.Label
	telling bool // the choice comes from the program
	chosen  string
	unroll  unroll
}

// NewGrid returns an empty grid; empty is said where there are no rows.
func NewGrid(empty string, onRow func(row desk.Row)) *Grid {
	g := &Grid{OnRow: onRow, fit: &columns{}, empty: widget.NewLabel(empty)}
	g.empty.Wrapping = fyne.TextWrapWord
	g.head = container.New(g.fit)
	g.top = container.NewVBox(g.head, widget.NewSeparator())
	g.list = newRowList(func() int { return g.unroll.of(len(g.table.Rows)) }, g.newRow, g.fillRow)
	g.list.HideSeparators = true
	g.list.OnSelected = func(id widget.ListItemID) {
		if id >= len(g.table.Rows) {
			return
		}
		g.chosen = g.table.Rows[id].Key
		if !g.telling && g.OnRow != nil {
			g.OnRow(g.table.Rows[id])
		}
	}
	g.ExtendBaseWidget(g)
	return g
}

// SetEmpty changes what is said where there are no rows.
func (g *Grid) SetEmpty(text string) {
	if g.empty.Text != text {
		g.empty.SetText(text)
	}
}

// Rows returns what is shown.
func (g *Grid) Rows() []desk.Row { return g.table.Rows }

// Choose marks the row of a key without telling OnRow; "" marks none.
func (g *Grid) Choose(key string) {
	i := slices.IndexFunc(g.table.Rows, func(r desk.Row) bool { return key != "" && r.Key == key })
	if key == g.chosen && i >= 0 {
		return
	}
	g.chosen = key
	g.telling = true
	defer func() { g.telling = false }()
	if i < 0 {
		g.list.UnselectAll()
		return
	}
	g.unroll.upTo(i)
	g.list.Select(i)
}

// SetTable shows another table; the choice stays with its key.
func (g *Grid) SetTable(t desk.Table) {
	given := t
	if g.OnSort == nil {
		t = t.Found(g.sorted)
	}
	if equalTables(&g.table, &t) {
		return
	}
	newColumns := len(t.Columns) != len(g.table.Columns)
	wasEmpty, news := len(g.table.Rows) == 0, otherRows(g.table.Rows, t.Rows)
	g.given, g.table = given, t
	g.fit.measure(&g.table)
	g.fit.setRoom(g.Size().Width)
	if newColumns {
		g.head.RemoveAll()
		g.head.Add(theme.VerdictMark(""))
		for k := range t.Columns {
			g.head.Add(newHead(func() { g.sort(k + 1) }))
		}
		g.head.Objects[0].Hide()
		g.list.CreateItem = g.newRow
	}
	g.nameHeads()
	g.empty.Hidden = len(t.Rows) > 0
	g.list.Hidden = len(t.Rows) == 0
	g.top.Hidden = len(t.Rows) == 0 // heads of nothing tell nothing
	key := g.chosen
	g.chosen = ""
	if news && g.list.GetScrollOffset() == 0 {
		g.unroll.start(len(t.Rows), g.list.Refresh)
	}
	if newColumns || wasEmpty || len(t.Rows) == 0 {
		g.Refresh() // what is hidden and what is not has changed; the list with it
	} else {
		g.head.Refresh()
		g.list.Refresh()
	}
	g.Choose(key)
}

// otherRows reports whether most of the rows that come first are other ones.
func otherRows(was, is []desk.Row) bool {
	n, other := min(len(was), len(is), rowsAtOnce), 0
	for i := range n {
		if was[i].Key != is[i].Key || !slices.Equal(was[i].Cells, is[i].Cells) {
			other++
		}
	}
	return 2*other >= n
}

// nameHeads writes the heads, that of the sorted column with its direction.
func (g *Grid) nameHeads() {
	for k, c := range g.table.Columns {
		label := g.head.Objects[k+1].(*head)
		label.Alignment = alignment(c)
		text := g.fit.headsNow()[k]
		switch {
		case g.sorted.By != k+1:
		case g.sorted.Down:
			text += downArrow
		default:
			text += upArrow
		}
		label.SetText(text)
	}
}

// sort sorts by a column, from 1; once more turns the order, and once more
// leaves it as it comes.
func (g *Grid) sort(column int) {
	if g.OnSort != nil {
		g.OnSort(column)
		return
	}
	switch {
	case g.sorted.By != column:
		g.sorted = desk.Finder{By: column}
	case !g.sorted.Down:
		g.sorted.Down = true
	default:
		g.sorted = desk.Finder{}
	}
	g.fit.sortBy(g.sorted.By)
	g.fit.setRoom(g.Size().Width)
	g.SetTable(g.given)
	g.nameHeads()
}

// SetSorted tells by which column the rows are sorted, from 1; 0: by none.
func (g *Grid) SetSorted(by int, down bool) {
	g.sorted = desk.Finder{By: by, Down: down}
	g.fit.sortBy(by)
	g.fit.setRoom(g.Size().Width)
	if len(g.head.Objects) > len(g.table.Columns) {
		g.nameHeads()
	}
}

// Step goes on by a number of rows from the chosen one, as if it had been
// chosen by hand; from none to the first or last.
func (g *Grid) Step(by int) {
	n := len(g.table.Rows)
	i := slices.IndexFunc(g.table.Rows, func(r desk.Row) bool { return g.chosen != "" && r.Key == g.chosen })
	switch {
	case i >= 0:
		i += by
	case by < 0:
		i = n - 1
	default:
		i = 0
	}
	if i >= 0 && i < n {
		g.unroll.upTo(i)
		g.list.Select(i)
		g.list.ScrollTo(i)
	}
}

func alignment(c desk.Column) fyne.TextAlign {
	if c.Right {
		return fyne.TextAlignTrailing
	}
	return fyne.TextAlignLeading
}

func (g *Grid) newRow() fyne.CanvasObject {
	row := container.New(g.fit, theme.VerdictMark(""))
	for range max(1, len(g.table.Columns)) {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		row.Add(l)
	}
	return row
}

func (g *Grid) fillRow(id widget.ListItemID, o fyne.CanvasObject) {
	if id >= len(g.table.Rows) {
		return
	}
	r, row := g.table.Rows[id], o.(*fyne.Container)
	for len(row.Objects) < len(g.table.Columns)+1 { // made for another table
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		row.Add(l)
	}
	mark := row.Objects[0].(*theme.Mark)
	mark.Hidden = r.Verdict == ""
	mark.SetVerdict(r.Verdict)
	for k, o := range row.Objects[1:] {
		label := o.(*widget.Label)
		label.Hidden = k >= len(r.Cells)
		if label.Hidden {
			continue
		}
		align, cut := alignment(g.table.Columns[k]), fyne.TextTruncateEllipsis
		if g.fit.holds(k, r.Cells[k]) {
			cut = fyne.TextTruncateOff
		}
		if label.Text != r.Cells[k] || label.Alignment != align || label.Truncation != cut {
			label.Alignment, label.Truncation = align, cut
			label.SetText(r.Cells[k])
		}
	}
	g.fit.Layout(row.Objects, row.Size())
}

// CreateRenderer is the toolkit's.
func (g *Grid) CreateRenderer() fyne.WidgetRenderer {
	top := g.top
	body := container.NewStack(g.list, container.NewVBox(g.empty))
	return widget.NewSimpleRenderer(container.NewHScroll(container.NewBorder(top, nil, nil, nil, body)))
}

// Refresh is the toolkit's, also after the look has changed.
func (g *Grid) Refresh() {
	if g.fit.setRoom(g.Size().Width) && len(g.head.Objects) > len(g.table.Columns) {
		g.nameHeads()
		g.list.Refresh()
	}
	g.BaseWidget.Refresh()
}

// Resize is the toolkit's.
func (g *Grid) Resize(size fyne.Size) {
	if g.fit.setRoom(size.Width) {
		if len(g.head.Objects) > len(g.table.Columns) {
			g.nameHeads()
		}
		g.head.Refresh()
		g.list.Refresh()
	}
	g.BaseWidget.Resize(size)
}

// MinSize is the toolkit's. In large letters the head alone would fill the least
// height, so it grows with them: two rows always show.
func (g *Grid) MinSize() fyne.Size {
	g.ExtendBaseWidget(g)
	high := float32(90)
	if letters := g.list.Theme().Size("text"); letters > 16 {
		high = 8.5 * letters
	}
	return fyne.NewSize(120, high)
}

func equalTables(a, b *desk.Table) bool {
	return len(a.Rows) == len(b.Rows) && slices.Equal(a.Columns, b.Columns) && slices.EqualFunc(a.Rows, b.Rows, func(x, y desk.Row) bool {
		return x.Key == y.Key && x.Verdict == y.Verdict && slices.Equal(x.Cells, y.Cells)
	})
}
