package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Fitted is a sentence in a room of fixed height: in one line, or in two of small
// letters where one is too narrow, so that it is not cut.
type Fitted struct {
	widget.BaseWidget
	text string
}

// NewFitted returns an empty one.
func NewFitted() *Fitted {
	f := &Fitted{}
	f.ExtendBaseWidget(f)
	return f
}

// SetText shows another text.
func (f *Fitted) SetText(text string) {
	if f.text != text {
		f.text = text
		f.Refresh()
	}
}

// Text returns what is shown.
func (f *Fitted) Text() string { return f.text }

// CreateRenderer is the toolkit's.
func (f *Fitted) CreateRenderer() fyne.WidgetRenderer {
	r := &fittedRenderer{of: f, lines: [2]*canvas.Text{{}, {}}}
	r.Refresh()
	return r
}

type fittedRenderer struct {
	of    *Fitted
	lines [2]*canvas.Text
	size  fyne.Size
}

// MinSize is the toolkit's.
func (r *fittedRenderer) MinSize() fyne.Size {
	text, small := sizeOf(r.of, fynetheme.SizeNameText), sizeOf(r.of, fynetheme.SizeNameCaptionText)
	return fyne.NewSize(60, max(lineHigh(text), 2*lineHigh(small)))
}

// Layout is the toolkit's.
func (r *fittedRenderer) Layout(size fyne.Size) {
	r.size = size
	pad := sizeOf(r.of, fynetheme.SizeNameInnerPadding)
	text, small := sizeOf(r.of, fynetheme.SizeNameText), sizeOf(r.of, fynetheme.SizeNameCaptionText)
	var lines []string
	var letters float32
	for _, way := range []struct {
		letters float32
		most    int
	}{{text, 1}, {small, 1}, {small, 2}, {leastShrink * small, 2}} {
		var whole bool
		letters = way.letters
		if lines, whole = wrap(r.of.text, size.Width-2*pad, way.most, sized(letters, fyne.TextStyle{})); whole {
			break
		}
	}
	step := lineHigh(letters)
	y := (size.Height - step*float32(len(lines))) / 2
	for i, line := range r.lines {
		line.Text, line.TextSize = "", letters
		if i < len(lines) {
			line.Text = lines[i]
		}
		line.Move(fyne.NewPos(pad, y+step*float32(i)))
	}
}

// Refresh is the toolkit's.
func (r *fittedRenderer) Refresh() {
	r.Layout(r.size)
	for _, line := range r.lines {
		line.Color = colorOf(r.of, fynetheme.ColorNameForeground)
		line.Refresh()
	}
}

// Objects is the toolkit's.
func (r *fittedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.lines[0], r.lines[1]}
}

// Destroy is the toolkit's.
func (r *fittedRenderer) Destroy() {}

// sayRow lays out a sign, a sentence and buttons in a row; where the sentence has
// too little room the buttons stand below it.
type sayRow struct{ below bool }

// sayLetters is how many letters of a sentence are to stand beside the buttons.
const sayLetters = 34

// Layout is the toolkit's.
func (l *sayRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	sign, says, keys := objects[0].MinSize(), objects[1].MinSize(), objects[2].MinSize()
	room := size.Width - sign.Width
	l.below = room-keys.Width < sayLetters*letterShare*fynetheme.Size(fynetheme.SizeNameText)
	high := size.Height
	if l.below {
		high -= keys.Height
	} else {
		room -= keys.Width
	}
	high = max(high, says.Height)
	objects[0].Move(fyne.NewPos(0, (high-sign.Height)/2))
	objects[0].Resize(sign)
	objects[1].Move(fyne.NewPos(sign.Width, 0))
	objects[1].Resize(fyne.NewSize(room, high))
	objects[2].Move(fyne.NewPos(size.Width-keys.Width, size.Height-keys.Height))
	objects[2].Resize(keys)
}

// MinSize is the toolkit's.
func (l *sayRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	says, keys := objects[1].MinSize(), objects[2].MinSize()
	if l.below {
		return fyne.NewSize(keys.Width, says.Height+keys.Height)
	}
	return fyne.NewSize(keys.Width, max(says.Height, keys.Height))
}
