package page

import (
	"image/color"
	"math"
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// Chart draws curves over a common axis, each with its name at its end, limits
// dashed, the range in which all holds shaded, and a mark where the reader is.
// A tap or a drag goes to OnAt, if that is set.
type Chart struct {
	widget.BaseWidget
	OnAt  func(at float64) // Bare numbers: as the chart's X
	chart desk.Chart
}

// NewChart returns an empty chart.
func NewChart() *Chart {
	c := &Chart{}
	c.ExtendBaseWidget(c)
	return c
}

// SetChart shows other curves.
func (c *Chart) SetChart(chart desk.Chart) {
	if reflect.DeepEqual(c.chart, chart) {
		return
	}
	c.chart = chart
	c.Refresh()
}

// MinSize is the toolkit's.
func (c *Chart) MinSize() fyne.Size {
	text := sizeOf(c, fynetheme.SizeNameCaptionText)
	var names [2]int // over the beginnings and the ends
	for _, l := range c.chart.Lines {
		if l.Name != "" && l.Limit {
			names[0]++
		} else if l.Name != "" {
			names[1]++
		}
	}
	return fyne.NewSize(18*text, max(12, axesHigh+nameHigh*float32(max(names[0], names[1])))*text)
}

// Heights in sizes of the letters: of what stands above and below the curves,
// and of what a name needs so that all find a place, wherever the others stand.
const axesHigh, nameHigh = 3.7, 2.5

// CreateRenderer is the toolkit's.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer {
	r := &chartRenderer{chart: c}
	r.Refresh()
	return r
}

type chartRenderer struct {
	chart   *Chart
	size    fyne.Size
	objects []fyne.CanvasObject
	left    float32 // of the plot
	right   float32
	top     float32
	bottom  float32
}

func (r *chartRenderer) Layout(size fyne.Size) {
	if size != r.size {
		r.size = size
		r.Refresh()
	}
}
func (r *chartRenderer) MinSize() fyne.Size           { return r.chart.MinSize() }
func (r *chartRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *chartRenderer) Destroy()                     {}

// curveColors tell curves apart beside their names. Read-only.
var curveColors = []string{"ok", "overlap", "short", "close"}

func (r *chartRenderer) Refresh() {
	r.objects = nil
	c := &r.chart.chart
	if r.size.Width < 40 || len(c.Lines) == 0 {
		return
	}
	text := sizeOf(r.chart, fynetheme.SizeNameCaptionText)
	ink, quiet := colorOf(r.chart, fynetheme.ColorNameForeground), colorOf(r.chart, fynetheme.ColorNamePlaceHolder)
	r.left, r.right = r.chart.plot()
	r.top, r.bottom = 1.9*text, r.size.Height-1.8*text
	r.ground(c)
	r.axes(c, text, quiet)
	r.marks(c, text, ink, r.curves(c, text))
	r.here(c, ink)
	r.put(c.Title+" in "+c.Unit+", against "+c.Against, 0, 0, text, ink, true)
}

// curves draws all lines with their names and returns where those stand.
func (r *chartRenderer) curves(c *desk.Chart, text float32) (ends []written) {
	ink, quiet := colorOf(r.chart, fynetheme.ColorNameForeground), colorOf(r.chart, fynetheme.ColorNamePlaceHolder)
	curves := 0
	for _, l := range c.Lines {
		tone := color.Color(quiet)
		switch {
		case l.Limit:
		case l.Thin:
			tone = theme.VerdictColor(curveColors[(curves+len(curveColors)-1)%len(curveColors)])
		default:
			tone = theme.VerdictColor(curveColors[curves%len(curveColors)])
			curves++
		}
		r.curve(c, l, tone)
		if l.Name != "" {
			ends = r.name(c, l, named{text, ink, tone}, ends)
		}
	}
	return ends
}

// marks draws the points that are told apart, their texts clear of the names.
func (r *chartRenderer) marks(c *desk.Chart, text float32, ink color.Color, taken []written) {
	for _, m := range c.Marks {
		x, y := r.x(c, m.X), r.y(c, m.Y)
		dot := canvas.NewCircle(ink)
		dot.Move(fyne.NewPos(x-text/3, y-text/3))
		dot.Resize(fyne.NewSquareSize(2 * text / 3))
		r.objects = append(r.objects, dot)
		width := fyne.MeasureText(m.Text, text, fyne.TextStyle{}).Width
		left := max(r.left+2, min(x-width/2, r.right-width-2))
		top, found := r.place(c, taken, fyne.NewPos(left, y-1.9*text), y+0.6*text, width, text, true)
		if !found {
			top, _ = r.place(c, taken, fyne.NewPos(left, y-1.9*text), y+0.6*text, width, text, false)
		}
		r.plate(left, top, width, text)
		r.put(m.Text, left, top, text, ink, false)
		taken = append(taken, written{left, top, width})
	}
}

// ground shades what is good and what is not.
func (r *chartRenderer) ground(c *desk.Chart) {
	frame := canvas.NewRectangle(colorOf(r.chart, fynetheme.ColorNameHeaderBackground))
	frame.Move(fyne.NewPos(r.left, r.top))
	frame.Resize(fyne.NewSize(r.right-r.left, r.bottom-r.top))
	r.objects = append(r.objects, frame)
	for _, w := range c.Good {
		r.shade(c, w, "ok")
	}
	for _, w := range c.Bad {
		r.shade(c, w, "over")
	}
}

// shade colours a range of the axis as a verdict.
func (r *chartRenderer) shade(c *desk.Chart, w [2]float64, verdict string) {
	field := canvas.NewRectangle(colorOf(r.chart, theme.TileColor(verdict)))
	field.Move(fyne.NewPos(r.x(c, w[0]), r.top))
	field.Resize(fyne.NewSize(max(1, r.x(c, w[1])-r.x(c, w[0])), r.bottom-r.top))
	r.objects = append(r.objects, field)
}

func (r *chartRenderer) curve(c *desk.Chart, l desk.ChartLine, tone color.Color) {
	if l.Limit {
		y := r.y(c, l.Y[0])
		for x := r.left; x < r.right; x += 9 {
			r.line(x, y, min(x+5, r.right), y, 1.4, tone)
		}
		return
	}
	wide := float32(2.2)
	if l.Thin {
		wide = 0.8
	}
	for i := 1; i < len(l.X); i++ {
		r.line(r.x(c, l.X[i-1]), r.y(c, l.Y[i-1]), r.x(c, l.X[i]), r.y(c, l.Y[i]), wide, tone)
	}
}

// written is where a text stands, and how wide it is.
type written struct{ x, y, wide float32 }

// named is how the name of a curve is written: beside a stroke in its colour.
type named struct {
	text      float32
	ink, tone color.Color
}

// name writes the name of a curve over its end, that of a limit over its
// beginning, each at the nearest height that is still free there.
func (r *chartRenderer) name(c *desk.Chart, l desk.ChartLine, n named, taken []written) []written {
	text := n.text
	stroke := 1.2 * text
	width := fyne.MeasureText(l.Name, text, fyne.TextStyle{}).Width + stroke
	x := r.right - width - text/2
	if l.Limit {
		x = r.left + text/2
	}
	high, low := r.span(c, l, x, x+width)
	y, found := r.place(c, taken, fyne.NewPos(x, high-1.45*text), low+0.1*text, width, text, true)
	if !found {
		y, _ = r.place(c, taken, fyne.NewPos(x, high-1.45*text), low+0.1*text, width, text, false)
	}
	r.plate(x, y, width, text)
	if !l.Limit {
		r.line(x, y+0.65*text, x+0.8*stroke, y+0.65*text, 2.2, n.tone)
		r.put(l.Name, x+stroke, y, text, n.ink, false)
	} else {
		r.put(l.Name, x, y, text, n.ink, false)
	}
	return append(taken, written{x, y, width})
}

// place returns the height nearest to above or below at which a name is clear of
// those written before and, if asked, of all curves.
func (r *chartRenderer) place(c *desk.Chart, taken []written, above fyne.Position, below, width, text float32, clear bool) (y float32, found bool) {
	free := func(y float32) bool {
		for _, t := range taken {
			if t.x < above.X+width+text/2 && above.X < t.x+t.wide+text/2 && math.Abs(float64(t.y-y)) < float64(1.25*text) {
				return false
			}
		}
		for _, l := range c.Lines {
			if high, low := r.span(c, l, above.X, above.X+width); clear && low > y+0.1*text && high < y+1.3*text {
				return false
			}
		}
		return y >= r.top && y <= r.bottom-1.3*text
	}
	for step := float32(0); step < r.bottom-r.top; step += text / 4 {
		if y = above.Y - step; free(y) {
			return y, true
		}
		if y = below + step; free(y) {
			return y, true
		}
	}
	return above.Y, false
}

// span returns the heights on the screen between which a curve runs from one
// place across to another.
func (r *chartRenderer) span(c *desk.Chart, l desk.ChartLine, from, to float32) (high, low float32) {
	high, low = r.bottom, r.top
	for i := 1; i < len(l.X); i++ {
		if r.x(c, l.X[i]) < from || r.x(c, l.X[i-1]) > to {
			continue
		}
		high = min(high, r.y(c, l.Y[i-1]), r.y(c, l.Y[i]))
		low = max(low, r.y(c, l.Y[i-1]), r.y(c, l.Y[i]))
	}
	return high, low
}

// here marks where the reader stands.
func (r *chartRenderer) here(c *desk.Chart, ink color.Color) {
	if c.At < c.X[0] || c.At > c.X[1] {
		return
	}
	x := r.x(c, c.At)
	r.line(x, r.top, x, r.bottom, 1.6, ink)
}

// plate lays ground under a name, so that a curve does not strike it through.
func (r *chartRenderer) plate(x, y, width, text float32) {
	ground := color.NRGBAModel.Convert(colorOf(r.chart, fynetheme.ColorNameHeaderBackground)).(color.NRGBA)
	ground.A = 210
	field := canvas.NewRectangle(ground)
	field.CornerRadius = text / 4
	field.Move(fyne.NewPos(x-text/5, y+text/10))
	field.Resize(fyne.NewSize(width+text/2.5, 1.15*text))
	r.objects = append(r.objects, field)
}
