package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Aids lists, over a corner of the scene, the cuts and measurements in it. With
// none it takes no room.
type Aids struct {
	widget.BaseWidget
	host    Host
	Fold    *widget.Button
	rows    *fyne.Container
	roll    *container.Scroll
	ground  *canvas.Rectangle
	content *fyne.Container
	Copy    *widget.Button // all measurements
	head    *fyne.Container
	cuts    []desk.CutRow
	Cuts    []*CutLine
	rowsOf  []desk.MeasureRow
	Lines   []*MeasureLine
	folded  bool

	// OnCopy and OnRemove get measurements.
	OnCopy, OnRemove func(rows ...desk.MeasureRow)
}

// NewAids returns an empty list.
func NewAids(host Host) *Aids {
	a := &Aids{host: host, rows: container.NewVBox(), ground: &canvas.Rectangle{CornerRadius: 6}}
	a.Fold = widget.NewButton("", func() {
		a.folded = !a.folded
		a.lay()
	})
	a.Fold.Alignment, a.Fold.Importance = widget.ButtonAlignLeading, widget.LowImportance
	a.Copy = widget.NewButton(phrase.Of("Copy all"), func() { a.OnCopy(a.rowsOf...) })
	a.Copy.Importance = widget.LowImportance
	a.roll = container.NewVScroll(a.rows)
	a.head = container.NewBorder(nil, nil, nil, a.Copy, a.Fold)
	a.content = container.NewStack(a.ground, container.NewBorder(a.head, nil, nil, nil, a.roll))
	a.Hide()
	a.ExtendBaseWidget(a)
	return a
}

// Update shows the cuts that an attention looks at, and measurements as they are
// in its picture.
func (a *Aids) Update(at *desk.Attention, measures []desk.MeasureRow) {
	cuts := desk.CutRows(at)
	if slices.Equal(cuts, a.cuts) && slices.Equal(measures, a.rowsOf) {
		return
	}
	if len(cuts) != len(a.Cuts) || len(measures) != len(a.Lines) {
		a.make(len(cuts), len(measures))
	}
	a.cuts, a.rowsOf = cuts, measures
	for i, line := range a.Cuts {
		line.show(cuts[i])
	}
	for i, line := range a.Lines {
		line.show(measures[i])
	}
	a.lay()
}

// make lays out that many lines.
func (a *Aids) make(cuts, measures int) {
	a.Cuts, a.Lines, a.rows.Objects = nil, nil, nil
	for range cuts {
		line := newCutLine(a.host)
		a.Cuts = append(a.Cuts, line)
		a.rows.Add(line.content)
	}
	for range measures {
		line := newMeasureLine(a)
		a.Lines = append(a.Lines, line)
		a.rows.Add(line.content)
	}
}

// lay shows or folds the list.
func (a *Aids) lay() {
	text := desk.AidsText(len(a.cuts), len(a.rowsOf))
	if a.folded {
		text += " …"
	}
	a.Fold.SetText(text)
	if a.folded {
		a.roll.Hide()
	} else {
		a.roll.Show()
	}
	a.Copy.Hidden = len(a.rowsOf) == 0
	if len(a.cuts)+len(a.rowsOf) == 0 {
		a.Hide()
	} else {
		a.Show()
	}
	a.ground.FillColor = colorOf(a, fynetheme.ColorNameHeaderBackground)
	a.Refresh()
}

// Room of the list, in heights of the letters: wide enough for a figure with an
// angle beside its buttons, high enough for some rows before it rolls.
const aidsWide, aidsHigh = 24, 19

// MinSize is the room that the list asks for.
func (a *Aids) MinSize() fyne.Size {
	letters := fynetheme.Size(fynetheme.SizeNameText)
	head := a.head.MinSize()
	if a.folded {
		return head
	}
	size := a.rows.MinSize()
	return fyne.NewSize(max(head.Width, size.Width, aidsWide*letters), head.Height+2*fynetheme.Padding()+min(size.Height, aidsHigh*letters))
}

// CreateRenderer is the toolkit's.
func (a *Aids) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(a.content) }
