package page

import (
	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
)

// indent lays one object out in from the left, by its depth.
type indent int

// Layout is the toolkit's.
func (d indent) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	x := d.width()
	for _, o := range objects {
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(size.Width-x, size.Height))
	}
}

// MinSize is the toolkit's.
func (d indent) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().AddWidthHeight(d.width(), 0)
}

func (d indent) width() float32 { return float32(d) * fynetheme.Size(fynetheme.SizeNameInlineIcon) }

// tight lays texts one under the other, closer than paragraphs stand.
type tight float32

// How far texts lie over each other's empty rims, in inner paddings: under a
// text, and under a field, which has no rim.
const (
	textRims  = 1.5
	fieldRims = 0.8
)

// Layout is the toolkit's.
func (t tight) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, o.MinSize().Height))
		y += o.MinSize().Height - t.over()
	}
}

// MinSize is the toolkit's.
func (t tight) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		least := o.MinSize()
		size.Width = max(size.Width, least.Width)
		size.Height += least.Height - t.over()
	}
	size.Height += t.over()
	return size
}

func (t tight) over() float32 { return float32(t) * fynetheme.Size(fynetheme.SizeNameInnerPadding) }

// unitRoom gives a unit the width of the longest one, so that fields align.
type unitRoom struct{}

// unitLetters is the width in sizes of the letters.
const unitLetters = 5.2

// MinSize is the toolkit's.
func (unitRoom) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(max(unitLetters*fynetheme.Size(fynetheme.SizeNameText), objects[0].MinSize().Width), objects[0].MinSize().Height)
}

// Layout is the toolkit's.
func (unitRoom) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Move(fyne.Position{})
	objects[0].Resize(size)
}
