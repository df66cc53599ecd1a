package page

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Inset is the mirror as an eye sees it, small in a corner of the scene: what a
// move does to the rear view shows while it is made. A tap shows the other eye.
type Inset struct {
	widget.BaseWidget
	eye     int
	seen    *desk.Seen
	texts   [2]string // under the picture of each eye
	picture *canvas.Image
	ground  *canvas.Rectangle
	text    *canvas.Text
}

// NewInset returns one without a picture.
func NewInset() *Inset {
	i := &Inset{
		picture: newPhoto(), ground: &canvas.Rectangle{CornerRadius: 6},
		text: &canvas.Text{},
	}
	i.Hide()
	i.ExtendBaseWidget(i)
	return i
}

// Update shows the mirror of a state if the attention wants it and there is one.
func (i *Inset) Update(s *desk.State, a *desk.Attention) {
	seen := s.Answers.Seen.Value
	if !a.Mirror || seen == nil || seen.Mirror[i.eye] == nil {
		i.Hide()
		return
	}
	texts := [2]string{desk.InsetText(s, 0), desk.InsetText(s, 1)}
	if seen == i.seen && texts == i.texts && i.Visible() {
		return
	}
	i.seen, i.texts = seen, texts
	i.picture.Image = seen.Mirror[i.eye]
	i.Show()
	i.Refresh()
}

// Caption returns what stands under the picture.
func (i *Inset) Caption() string { return i.texts[i.eye] }

// Picture returns what is shown, nil for nothing.
func (i *Inset) Picture() image.Image { return i.picture.Image }

// Tapped shows what the other eye sees.
func (i *Inset) Tapped(*fyne.PointEvent) {
	i.eye = 1 - i.eye
	if i.seen != nil && i.seen.Mirror[i.eye] != nil {
		i.picture.Image = i.seen.Mirror[i.eye]
		i.Refresh()
	}
}

// Cursor tells that it can be tapped.
func (i *Inset) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is the toolkit's.
func (i *Inset) CreateRenderer() fyne.WidgetRenderer {
	r := &insetRenderer{i}
	r.Refresh()
	return r
}

type insetRenderer struct{ inset *Inset }

// insetWide is the width of the picture in heights of the letters.
const insetWide = 18

func (r *insetRenderer) letters() float32 { return sizeOf(r.inset, fynetheme.SizeNameCaptionText) }

// MinSize is the picture's, as wide as its shape asks for, with its caption.
func (r *insetRenderer) MinSize() fyne.Size {
	wide := insetWide * sizeOf(r.inset, fynetheme.SizeNameText)
	high := wide / 3
	if img := r.inset.picture.Image; img != nil {
		high = wide * float32(img.Bounds().Dy()) / float32(max(1, img.Bounds().Dx()))
	}
	rim := r.letters() / 2
	return fyne.NewSize(wide+2*rim, high+1.6*r.letters()+2*rim)
}

// Layout is the toolkit's.
func (r *insetRenderer) Layout(size fyne.Size) {
	rim, line := r.letters()/2, 1.6*r.letters()
	r.inset.ground.Resize(size)
	r.inset.picture.Move(fyne.NewPos(rim, rim))
	r.inset.picture.Resize(fyne.NewSize(size.Width-2*rim, size.Height-line-2*rim))
	r.inset.text.Move(fyne.NewPos(rim, size.Height-line-rim/2))
	r.inset.text.Resize(fyne.NewSize(size.Width-2*rim, line))
}

// Refresh is the toolkit's.
func (r *insetRenderer) Refresh() {
	i := r.inset
	i.ground.FillColor = colorOf(i, fynetheme.ColorNameHeaderBackground)
	i.text.Color = colorOf(i, fynetheme.ColorNameForeground)
	i.text.TextSize = r.letters()
	i.text.Text = cut(i.Caption(), r.MinSize().Width-r.letters(), sized(r.letters(), fyne.TextStyle{}))
	r.Layout(i.Size())
	i.ground.Refresh()
	i.picture.Refresh()
	i.text.Refresh()
}

// Objects is the toolkit's.
func (r *insetRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.inset.ground, r.inset.picture, r.inset.text}
}

// Destroy is the toolkit's.
func (r *insetRenderer) Destroy() {}

// InsetPlace lays an inset at the right of a strip along the foot of the scene;
// in letters for a wall at the left, since the scale of a field then reaches down
// to the foot at the right.
type InsetPlace struct{}

// Layout is the toolkit's.
func (InsetPlace) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	least := objects[0].MinSize()
	x := size.Width - least.Width
	if large() {
		x = 0
	}
	objects[0].Move(fyne.NewPos(x, 0))
	objects[0].Resize(fyne.NewSize(least.Width, size.Height))
}

// MinSize is the toolkit's.
func (InsetPlace) MinSize(objects []fyne.CanvasObject) fyne.Size {
	if !objects[0].Visible() {
		return fyne.Size{}
	}
	return objects[0].MinSize()
}
