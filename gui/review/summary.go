package review

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// summary is the last slide: what was settled, who does what by when, and how
// long it took.
type summary struct {
	window  *Window
	head    *words
	foot    *widget.Label
	rows    *fyne.Container
	list    *container.Scroll
	content *fyne.Container
	shown   desk.Table
	columns *summaryRow
}

func newSummary(w *Window) *summary {
	s := &summary{window: w, head: w.wall.words(titleShare, fynetheme.ColorNameForeground, true), foot: widget.NewLabel(""), rows: container.NewVBox(), columns: &summaryRow{}}
	s.foot.Wrapping = fyne.TextWrapWord
	s.foot.TextStyle.Bold = true
	s.list = container.NewVScroll(s.rows)
	s.content = container.NewPadded(container.NewBorder(container.NewVBox(s.head.Text, s.foot), nil, nil, nil, s.list))
	s.head.Text.Text = phrase.Of("What was settled")
	return s
}

// update shows what was settled so far.
func (s *summary) update(state *desk.State, r *desk.Review, now time.Time) {
	t := desk.ReviewSummary(state, r, now)
	text := ""
	for _, line := range t.Foot {
		text += line + "\n"
	}
	if text = text[:max(0, len(text)-1)]; s.foot.Text != text {
		s.foot.SetText(text)
	}
	same := slices.EqualFunc(t.Rows, s.shown.Rows, func(a, b desk.Row) bool { return slices.Equal(a.Cells, b.Cells) && a.Verdict == b.Verdict })
	if same && len(s.rows.Objects) > 0 {
		return
	}
	s.shown = t
	s.measure()
	s.rows.RemoveAll()
	var heads []string
	for _, c := range t.Columns {
		heads = append(heads, c.Head)
	}
	s.rows.Add(s.row("", heads, true))
	s.rows.Add(widget.NewSeparator())
	for _, row := range t.Rows {
		s.rows.Add(s.row(row.Verdict, row.Cells, false))
	}
	s.window.cover.Refresh() // rows made now take the sizes of the wall
}

func (s *summary) row(verdict string, cells []string, bold bool) fyne.CanvasObject {
	mark := theme.VerdictMark(verdict)
	mark.Hidden = verdict == ""
	row := []fyne.CanvasObject{mark}
	for k, cell := range cells {
		l := widget.NewLabel(cell)
		if k == findingColumn || k == ownerColumn || k == taskColumn {
			l.Wrapping = fyne.TextWrapWord
		}
		l.SizeName = fynetheme.SizeNameCaptionText
		l.TextStyle.Bold = bold
		row = append(row, l)
	}
	return container.New(s.columns, row...)
}

// measure fits the columns to what they hold.
func (s *summary) measure() {
	wall := s.window.wall
	s.columns.measure(s.shown, wall.of(smallShare), wall.Size(fynetheme.SizeNameInnerPadding))
}

// resized gives the letters their size.
func (s *summary) resized() {
	s.head.TextSize = s.window.wall.of(titleShare)
	s.measure()
	s.content.Refresh()
}

// scroll goes down or up by a few rows.
func (s *summary) scroll(down bool) {
	step := s.list.Size().Height / 4
	if !down {
		step = -step
	}
	s.list.Offset.Y = max(0, min(s.list.Offset.Y+step, s.rows.MinSize().Height-s.list.Size().Height))
	s.list.Refresh()
}

// summaryRow lays out a sign and cells, one per column of desk.ReviewSummary. All
// rows share it. What is to be done takes what the others leave; findings give
// way where that is little, and both break into lines.
type summaryRow struct {
	wide []float32 // by column: as wide as its widest text
}

// The columns that may break into lines.
const (
	findingColumn, ownerColumn, taskColumn = 0, 4, 5

	leastTask, leastFinding = 0.20, 0.22 // shares of the width that they keep
)

// measure takes the widths of texts in letters of a size.
func (l *summaryRow) measure(t desk.Table, letters, pad float32) {
	l.wide = make([]float32, len(t.Columns))
	for k, c := range t.Columns {
		l.wide[k] = fyne.MeasureText(c.Head, letters, fyne.TextStyle{Bold: true}).Width + 2*pad + 1
		for _, row := range t.Rows {
			l.wide[k] = max(l.wide[k], fyne.MeasureText(row.Cells[k], letters, fyne.TextStyle{}).Width+2*pad+1)
		}
	}
}

// widths shares out a width.
func (l *summaryRow) widths(room float32) []float32 {
	out := slices.Clone(l.wide)
	if len(out) <= taskColumn {
		return out
	}
	left := room
	for k, wide := range out {
		if k != taskColumn {
			left -= wide
		}
	}
	if missing := leastTask*room - left; missing > 0 {
		given := min(missing, max(0, out[findingColumn]-leastFinding*room))
		out[findingColumn] -= given
		left += given
	}
	out[taskColumn] = max(left, 0)
	return out
}

// Layout is the toolkit's.
func (l *summaryRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	sign := lineHigh(objects) * 0.8
	objects[0].Move(fyne.NewPos(0, sign*0.12))
	objects[0].Resize(fyne.NewSquareSize(sign))
	x := sign
	for k, wide := range l.widths(size.Width - sign) {
		objects[k+1].Move(fyne.NewPos(x, 0))
		objects[k+1].Resize(fyne.NewSize(wide, size.Height))
		x += wide
	}
}

// lineHigh is the height of a row of one line: that of a cell that never breaks.
func lineHigh(objects []fyne.CanvasObject) (high float32) { return objects[2].MinSize().Height }

// MinSize is the toolkit's.
func (l *summaryRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var high float32
	for _, o := range objects[1:] {
		high = max(high, o.MinSize().Height)
	}
	return fyne.NewSize(320, high)
}
