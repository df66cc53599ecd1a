package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

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
	l.Flip = button(phrase.Of("Flip"), (*desk.Attention).FlipCut)
	l.Grid = button(phrase.Of("Grid"), (*desk.Attention).GridCut)
	l.Rest = button(phrase.Of("Rest"), (*desk.Attention).RestCut)
	l.Remove = button(phrase.Of("Remove"), (*desk.Attention).RemoveCut)
	l.At.OnSubmitted = l.put
	first := container.NewBorder(nil, nil, l.letter, nil, l.says)
	second := container.NewHBox(container.New(figureRoom{}, l.At), widget.NewLabel(phrase.Of("mm")), l.Flip, l.Grid, l.Rest, l.Remove)
	l.content = container.NewVBox(first, second)
	return l
}

// put moves the cut to where the text says, or tells why it cannot.
func (l *CutLine) put(text string) {
	if err := desk.CheckCut(text); err != nil {
		l.says.SetText(phrase.Err(err))
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

// MeasureLine is one measurement in the list.
type MeasureLine struct {
	row                   desk.MeasureRow
	number, figure, words *widget.Label
	Copy, Remove          *widget.Button
	content               *fyne.Container
}

func newMeasureLine(a *Aids) *MeasureLine {
	l := &MeasureLine{number: widget.NewLabel(""), figure: widget.NewLabel(""), words: widget.NewLabel("")}
	l.number.TextStyle.Bold, l.figure.TextStyle.Bold = true, true
	l.figure.Truncation, l.words.Truncation = fyne.TextTruncateEllipsis, fyne.TextTruncateEllipsis
	l.words.SizeName = fynetheme.SizeNameCaptionText
	l.Copy = widget.NewButton(phrase.Of("Copy"), func() { a.OnCopy(l.row) })
	l.Remove = widget.NewButton(phrase.Of("Remove"), func() { a.OnRemove(l.row) })
	l.Copy.Importance, l.Remove.Importance = widget.LowImportance, widget.LowImportance
	first := container.NewBorder(nil, nil, l.number, container.NewHBox(l.Copy, l.Remove), l.figure)
	l.content = container.NewVBox(first, l.words)
	return l
}

func (l *MeasureLine) show(row desk.MeasureRow) {
	l.row = row
	l.number.SetText(row.Number)
	l.figure.SetText(row.Figure)
	words := row.Words
	if row.Shift != "" {
		words = row.Shift + " · " + words
	}
	l.words.SetText(words)
}
