package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
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
	cuts    []desk.CutRow
	Cuts    []*CutLine
	folded  bool
}

// NewAids returns an empty list.
func NewAids(host Host) *Aids {
	a := &Aids{host: host, rows: container.NewVBox(), ground: &canvas.Rectangle{CornerRadius: 6}}
	a.Fold = widget.NewButton("", func() {
		a.folded = !a.folded
		a.lay()
	})
	a.Fold.Alignment, a.Fold.Importance = widget.ButtonAlignLeading, widget.LowImportance
	a.roll = container.NewVScroll(a.rows)
	a.content = container.NewStack(a.ground, container.NewBorder(a.Fold, nil, nil, nil, a.roll))
	a.Hide()
	a.ExtendBaseWidget(a)
	return a
}

// Update shows what an attention looks at.
func (a *Aids) Update(_ *desk.State, at *desk.Attention) {
	cuts := desk.CutRows(at)
	if slices.Equal(cuts, a.cuts) {
		return
	}
	a.cuts = cuts
	if len(cuts) != len(a.Cuts) {
		a.Cuts, a.rows.Objects = nil, nil
		for range cuts {
			line := newCutLine(a.host)
			a.Cuts = append(a.Cuts, line)
			a.rows.Add(line.content)
		}
	}
	for i, line := range a.Cuts {
		line.show(cuts[i])
	}
	a.lay()
}

// lay shows or folds the list.
func (a *Aids) lay() {
	text := desk.AidsText(len(a.cuts))
	if a.folded {
		text += " …"
	}
	a.Fold.SetText(text)
	if a.folded {
		a.roll.Hide()
	} else {
		a.roll.Show()
	}
	if len(a.cuts) == 0 {
		a.Hide()
	} else {
		a.Show()
	}
	a.ground.FillColor = colorOf(a, fynetheme.ColorNameHeaderBackground)
	a.Refresh()
}

// MinSize is the room that the list asks for: up to some rows without rolling.
func (a *Aids) MinSize() fyne.Size {
	const mostHigh = 260
	size := a.rows.MinSize()
	fold := a.Fold.MinSize()
	if a.folded {
		return fyne.NewSize(max(fold.Width, size.Width), fold.Height)
	}
	return fyne.NewSize(max(fold.Width, size.Width)+2*fynetheme.Padding(), fold.Height+min(size.Height, mostHigh)+2*fynetheme.Padding())
}

// CreateRenderer is the toolkit's.
func (a *Aids) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(a.content) }

// CutLine is one cut in the list.
type CutLine struct {
	host                     Host
	row                      desk.CutRow
	letter, says             *widget.Label
	At                       *widget.Entry
	Flip, Grid, Rest, Remove *widget.Button
	content                  *fyne.Container
}

func newCutLine(host Host) *CutLine {
	l := &CutLine{host: host, letter: widget.NewLabel(""), says: widget.NewLabel(""), At: widget.NewEntry()}
	l.letter.TextStyle.Bold = true
	l.says.Truncation, l.says.SizeName = fyne.TextTruncateEllipsis, fynetheme.SizeNameCaptionText
	button := func(text string, do func(a *desk.Attention, name string)) *widget.Button {
		b := widget.NewButton(text, func() {
			name := l.row.Name
			host.Look(func(a *desk.Attention) { do(a, name) })
		})
		b.Importance = widget.LowImportance
		return b
	}
	l.Flip = button("Flip", (*desk.Attention).FlipCut)
	l.Grid = button("Grid", (*desk.Attention).GridCut)
	l.Rest = button("Rest", (*desk.Attention).RestCut)
	l.Remove = button("Remove", (*desk.Attention).RemoveCut)
	l.At.OnSubmitted = l.put
	first := container.NewBorder(nil, nil, l.letter, nil, l.says)
	second := container.NewHBox(container.New(figureRoom{}, l.At), widget.NewLabel("mm"), l.Flip, l.Grid, l.Rest, l.Remove)
	l.content = container.NewVBox(first, second)
	return l
}

// put moves the cut to where the text says, or tells why it cannot.
func (l *CutLine) put(text string) {
	if err := desk.CheckCut(text); err != nil {
		l.says.SetText(err.Error())
		return
	}
	name := l.row.Name
	l.host.Look(func(a *desk.Attention) { _ = a.PutCut(name, text) }) // checked above
}

func (l *CutLine) show(row desk.CutRow) {
	if row.At != l.row.At {
		l.At.SetText(row.At)
	}
	l.row = row
	l.letter.SetText(row.Name)
	l.says.SetText(row.Text)
	tell := func(b *widget.Button, on bool) {
		want := widget.LowImportance
		if on {
			want = widget.MediumImportance
		}
		if b.Importance != want {
			b.Importance = want
			b.Refresh()
		}
	}
	tell(l.Grid, row.Grid)
	tell(l.Rest, row.Idle)
}
