package page

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Stroke is a line of a sketch.
type Stroke struct {
	Points []fyne.Position
	Color  color.Color
	Width  float32
}

// Sketch draws lines over the scene; the pointer goes through it.
type Sketch struct {
	widget.BaseWidget
	strokes []Stroke
}

// NewSketch returns an empty one.
func NewSketch() *Sketch {
	s := &Sketch{}
	s.ExtendBaseWidget(s)
	return s
}

// SetStrokes draws other lines.
func (s *Sketch) SetStrokes(strokes []Stroke) {
	if len(strokes) == 0 && len(s.strokes) == 0 {
		return
	}
	s.strokes = strokes
	s.Refresh()
}

// Strokes returns what is drawn.
func (s *Sketch) Strokes() []Stroke { return s.strokes }

// CreateRenderer is the toolkit's.
func (s *Sketch) CreateRenderer() fyne.WidgetRenderer { return &sketchRenderer{sketch: s} }

type sketchRenderer struct {
	sketch *Sketch
	lines  []fyne.CanvasObject
}

func (r *sketchRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *sketchRenderer) Destroy()                     {}
func (r *sketchRenderer) Objects() []fyne.CanvasObject { return r.lines }

// Layout keeps the lines where their points are.
func (r *sketchRenderer) Layout(fyne.Size) {}

// Refresh makes a line of every two points, reusing those that there are.
func (r *sketchRenderer) Refresh() {
	n := 0
	for _, s := range r.sketch.strokes {
		for i := 1; i < len(s.Points); i++ {
			if n == len(r.lines) {
				r.lines = append(r.lines, canvas.NewLine(s.Color))
			}
			l := r.lines[n].(*canvas.Line)
			l.StrokeColor, l.StrokeWidth = s.Color, s.Width
			l.Position1, l.Position2 = s.Points[i-1], s.Points[i]
			l.Show()
			l.Refresh()
			n++
		}
	}
	for _, l := range r.lines[n:] {
		l.Hide()
	}
	canvas.Refresh(r.sketch)
}
