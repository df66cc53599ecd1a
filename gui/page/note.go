package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Note is a line or two of text over the scene; an empty one shows nothing. The
// pointer goes through it.
type Note struct {
	widget.BaseWidget
	text string
}

// NewNote returns an empty note.
func NewNote() *Note {
	n := &Note{}
	n.ExtendBaseWidget(n)
	return n
}

// SetText shows another text.
func (n *Note) SetText(text string) {
	if n.text != text {
		n.text = text
		n.Refresh()
	}
}

// Text returns what is shown.
func (n *Note) Text() string { return n.text }

// CreateRenderer is the toolkit's.
func (n *Note) CreateRenderer() fyne.WidgetRenderer {
	r := &noteRenderer{note: n, ground: &canvas.Rectangle{CornerRadius: 4}, lines: [2]*canvas.Text{{}, {}}}
	r.Refresh()
	return r
}

type noteRenderer struct {
	note   *Note
	ground *canvas.Rectangle
	lines  [2]*canvas.Text
	size   fyne.Size
}

func (r *noteRenderer) letters() float32 { return sizeOf(r.note, fynetheme.SizeNameCaptionText) }

func (r *noteRenderer) MinSize() fyne.Size { return fyne.NewSize(60, 3.6*r.letters()) }

func (r *noteRenderer) Layout(size fyne.Size) {
	r.size = size
	letters := r.letters()
	of := sized(letters, fyne.TextStyle{})
	texts, _ := wrap(r.note.text, size.Width-3*letters, len(r.lines), of)
	wide, step := float32(0), 1.3*letters
	for _, text := range texts {
		wide = max(wide, of(text))
	}
	high := step * float32(len(texts))
	top := size.Height - high - letters/2
	for i, line := range r.lines {
		line.Text, line.TextSize = "", letters
		if i < len(texts) {
			line.Text = texts[i]
		}
		line.Move(fyne.NewPos((size.Width-of(line.Text))/2, top+float32(i)*step))
	}
	r.ground.Move(fyne.NewPos((size.Width-wide)/2-letters, top-letters/4))
	r.ground.Resize(fyne.NewSize(wide+2*letters, high+letters/2))
}

func (r *noteRenderer) Refresh() {
	r.ground.FillColor = colorOf(r.note, fynetheme.ColorNameHeaderBackground)
	r.ground.Hidden = r.note.text == ""
	r.Layout(r.size)
	r.ground.Refresh()
	for _, line := range r.lines {
		line.Color = colorOf(r.note, fynetheme.ColorNameForeground)
		line.Hidden = r.note.text == ""
		line.Refresh()
	}
}

func (r *noteRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.lines[0], r.lines[1]}
}
func (r *noteRenderer) Destroy() {}
