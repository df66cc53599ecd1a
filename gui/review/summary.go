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
}

// shares of a row's width, by the columns of desk.ReviewSummary. Read-only.
var shares = summaryRow{0.34, 0.11, 0.10, 0.11, 0.12, 0.15, 0.07}

func newSummary(w *Window) *summary {
	s := &summary{window: w, head: w.wall.words(titleShare, fynetheme.ColorNameForeground, true), foot: widget.NewLabel(""), rows: container.NewVBox()}
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
	row := container.New(shares, mark)
	for _, cell := range cells {
		l := widget.NewLabel(cell)
		l.Truncation = fyne.TextTruncateEllipsis
		l.SizeName = fynetheme.SizeNameCaptionText
		l.TextStyle.Bold = bold
		row.Add(l)
	}
	return row
}

// resized gives the letters their size.
func (s *summary) resized() {
	s.head.TextSize = s.window.wall.of(titleShare)
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

// summaryRow lays out a sign and cells by shares of the width.
type summaryRow [7]float32

// Layout is the toolkit's.
func (l summaryRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	sign := size.Height * 0.8
	objects[0].Move(fyne.NewPos(0, (size.Height-sign)/2))
	objects[0].Resize(fyne.NewSquareSize(sign))
	x := sign
	for k, o := range objects[1:] {
		wide := l[k] * (size.Width - sign)
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(wide, size.Height))
		x += wide
	}
}

// MinSize is the toolkit's.
func (l summaryRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var high float32
	for _, o := range objects[1:] {
		high = max(high, o.MinSize().Height)
	}
	return fyne.NewSize(320, high)
}
