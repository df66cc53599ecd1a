package page

import (
	"image/color"
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/desk"
)

// Tapped tells the place along X that was tapped.
func (c *Chart) Tapped(e *fyne.PointEvent) { c.pointed(e.Position.X) }

// Dragged tells the place along X under the pointer.
func (c *Chart) Dragged(e *fyne.DragEvent) { c.pointed(e.Position.X) }

// DragEnd is the toolkit's.
func (c *Chart) DragEnd() {}

func (c *Chart) pointed(x float32) {
	left, right := c.plot()
	if c.OnAt == nil || len(c.chart.Lines) == 0 || right <= left {
		return
	}
	share := max(0, min(1, float64((x-left)/(right-left))))
	c.OnAt(c.chart.X[0] + share*(c.chart.X[1]-c.chart.X[0]))
}

// plot returns where the axis begins and ends.
func (c *Chart) plot() (left, right float32) {
	text := sizeOf(c, fynetheme.SizeNameCaptionText)
	return 3.6 * text, c.Size().Width - text/2
}

func (r *chartRenderer) axes(c *desk.Chart, text float32, quiet color.Color) {
	line := colorOf(r.chart, fynetheme.ColorNameSeparator)
	for _, v := range ticks(c.Y[0], c.Y[1], int((r.bottom-r.top)/(2.2*text))) {
		y := r.y(c, v)
		r.line(r.left, y, r.right, y, 1, line)
		label := tickText(v)
		r.put(label, r.left-fyne.MeasureText(label, text, fyne.TextStyle{}).Width-text/3, y-0.65*text, text, quiet, false)
	}
	marks := ticks(c.X[0], c.X[1], int((r.right-r.left)/(4.5*text)))
	for _, v := range marks {
		x := r.x(c, v)
		r.line(x, r.bottom, x, r.bottom+text/4, 1, quiet)
		label := tickText(v)
		width := fyne.MeasureText(label, text, fyne.TextStyle{}).Width
		r.put(label, min(x-width/2, r.right-width), r.bottom+text/3, text, quiet, false)
	}
}

func (r *chartRenderer) x(c *desk.Chart, v float64) float32 {
	return r.left + float32((v-c.X[0])/(c.X[1]-c.X[0]))*(r.right-r.left)
}

func (r *chartRenderer) y(c *desk.Chart, v float64) float32 {
	return r.bottom - float32((v-c.Y[0])/(c.Y[1]-c.Y[0]))*(r.bottom-r.top)
}

func (r *chartRenderer) line(x1, y1, x2, y2, width float32, tone color.Color) {
	l := canvas.NewLine(tone)
	l.StrokeWidth = width
	l.Position1, l.Position2 = fyne.NewPos(x1, y1), fyne.NewPos(x2, y2)
	r.objects = append(r.objects, l)
}

func (r *chartRenderer) put(text string, x, y, size float32, tone color.Color, bold bool) {
	t := canvas.NewText(text, tone)
	t.TextSize, t.TextStyle.Bold = size, bold
	t.Move(fyne.NewPos(x, y))
	t.Resize(t.MinSize())
	r.objects = append(r.objects, t)
}

// ticks returns round values between two ends, at most about most of them.
// Bare numbers: in the unit of the axis.
func ticks(low, high float64, most int) []float64 {
	if !(high > low) || most < 1 {
		return nil
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(most))))
	for _, f := range []float64{1, 2, 5, 10} {
		if (high-low)/(f*step) <= float64(most) {
			step *= f
			break
		}
	}
	var out []float64
	for k := math.Ceil(low / step); k*step <= high+step*1e-9; k++ {
		out = append(out, k*step)
	}
	return out
}

func tickText(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}
