package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Readout is a plate with a few lines beside the pointer; the pointer goes
// through it. It fills the place over the scene.
type Readout struct {
	widget.BaseWidget
	at    fyne.Position
	lines []string
}

// NewReadout returns an empty one.
func NewReadout() *Readout {
	r := &Readout{}
	r.ExtendBaseWidget(r)
	return r
}

// ShowAt shows other lines beside a place; none hide the plate.
func (r *Readout) ShowAt(at fyne.Position, lines []string) {
	if len(lines) == 0 && len(r.lines) == 0 || at == r.at && slices.Equal(lines, r.lines) {
		return
	}
	r.at, r.lines = at, lines
	r.Refresh()
}

// Lines returns what is shown.
func (r *Readout) Lines() []string { return r.lines }

// CreateRenderer is the toolkit's.
func (r *Readout) CreateRenderer() fyne.WidgetRenderer {
	return &readoutRenderer{readout: r, plate: &canvas.Rectangle{CornerRadius: 4, StrokeWidth: 1}}
}

type readoutRenderer struct {
	readout *Readout
	plate   *canvas.Rectangle
	texts   []*canvas.Text
	size    fyne.Size
}

func (r *readoutRenderer) MinSize() fyne.Size { return fyne.Size{} }
func (r *readoutRenderer) Destroy()           {}

func (r *readoutRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.plate}
	for _, t := range r.texts {
		out = append(out, t)
	}
	return out
}

// Layout puts the plate to the right of the pointer and below, or where there
// is room.
func (r *readoutRenderer) Layout(size fyne.Size) {
	r.size = size
	letters := sizeOf(r.readout, fynetheme.SizeNameCaptionText)
	wide, step := float32(0), 1.35*letters
	for _, t := range r.texts {
		wide = max(wide, t.MinSize().Width)
	}
	plate := fyne.NewSize(wide+1.2*letters, step*float32(len(r.texts))+0.6*letters)
	away := 1.3 * letters
	at := r.readout.at.AddXY(away, away)
	if at.X+plate.Width > size.Width {
		at.X = max(0, r.readout.at.X-away-plate.Width)
	}
	if at.Y+plate.Height > size.Height {
		at.Y = max(0, r.readout.at.Y-away-plate.Height)
	}
	r.plate.Move(at)
	r.plate.Resize(plate)
	for i, t := range r.texts {
		t.Move(at.AddXY(0.6*letters, 0.3*letters+step*float32(i)))
		t.Resize(t.MinSize())
	}
}

func (r *readoutRenderer) Refresh() {
	lines := r.readout.lines
	r.plate.Hidden = len(lines) == 0
	r.plate.FillColor = colorOf(r.readout, fynetheme.ColorNameHeaderBackground)
	r.plate.StrokeColor = colorOf(r.readout, fynetheme.ColorNameSeparator)
	for len(r.texts) < len(lines) {
		r.texts = append(r.texts, &canvas.Text{})
	}
	r.texts = r.texts[:len(lines)]
	for i, t := range r.texts {
		t.Text, t.TextSize = lines[i], sizeOf(r.readout, fynetheme.SizeNameCaptionText)
		t.TextStyle.Bold = i == 0
		t.Color = colorOf(r.readout, fynetheme.ColorNameForeground)
	}
	r.Layout(r.size)
	canvas.Refresh(r.readout)
}
