package page

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Veil dims what lies below it while that belongs to an earlier state; the
// pointer goes through it.
type Veil struct {
	widget.BaseWidget
}

// veilAlpha leaves what is dimmed readable.
const veilAlpha = 130

// NewVeil returns one that is lifted.
func NewVeil() *Veil {
	v := &Veil{}
	v.ExtendBaseWidget(v)
	v.Hide()
	return v
}

// Dim dims or lifts.
func (v *Veil) Dim(dim bool) {
	if v.Hidden == dim {
		v.Hidden = !dim
		v.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (v *Veil) CreateRenderer() fyne.WidgetRenderer {
	r := &veilRenderer{veil: v, field: &canvas.Rectangle{}}
	r.Refresh()
	return r
}

type veilRenderer struct {
	veil  *Veil
	field *canvas.Rectangle
}

func (r *veilRenderer) Refresh() {
	c := color.NRGBAModel.Convert(colorOf(r.veil, fynetheme.ColorNameBackground)).(color.NRGBA)
	c.A = veilAlpha
	r.field.FillColor = c
	r.field.Refresh()
}

func (r *veilRenderer) Layout(size fyne.Size)        { r.field.Resize(size) }
func (r *veilRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *veilRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.field} }
func (r *veilRenderer) Destroy()                     {}
