package theme

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Mark shows the sign of a verdict at the size of an inline icon or larger. It
// follows the look in force.
type Mark struct {
	widget.BaseWidget
	verdict string
}

// VerdictMark returns the sign of a verdict word.
func VerdictMark(verdict string) *Mark {
	m := &Mark{verdict: verdict}
	m.ExtendBaseWidget(m)
	return m
}

// SetVerdict shows another verdict.
func (m *Mark) SetVerdict(verdict string) {
	if m.verdict == verdict {
		return
	}
	m.verdict = verdict
	m.Refresh()
}

// CreateRenderer is the toolkit's.
func (m *Mark) CreateRenderer() fyne.WidgetRenderer {
	r := &markRenderer{mark: m, picture: &canvas.Image{FillMode: canvas.ImageFillContain}}
	r.choose()
	return r
}

type markRenderer struct {
	mark    *Mark
	picture *canvas.Image
}

// choose takes the picture that fits the verdict and the look.
func (r *markRenderer) choose() {
	look := fynetheme.CurrentForWidget(r.mark)
	ink := look.Color(fynetheme.ColorNameForeground, fyne.CurrentApp().Settings().ThemeVariant())
	r.picture.Resource = Icon(r.mark.verdict, ink)
}

func (r *markRenderer) Layout(size fyne.Size) { r.picture.Resize(size) }

func (r *markRenderer) MinSize() fyne.Size {
	return fyne.NewSquareSize(fynetheme.CurrentForWidget(r.mark).Size(fynetheme.SizeNameInlineIcon))
}

func (r *markRenderer) Refresh() {
	r.choose()
	r.picture.Refresh()
}

func (r *markRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.picture} }

func (r *markRenderer) Destroy() {}
