package page

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/units"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Soak plots temperatures after key-off, with a slider that takes the scene
// through them. A standing case takes no room.
type Soak struct {
	widget.BaseWidget
	host    Host
	Chart   *Chart
	Slider  *widget.Slider
	Peaks   *widget.Button
	time    *widget.Label
	content *fyne.Container
	telling bool // the value comes from the program
}

// stepMin is what a time is rounded to: less than a pixel of the slider.
const stepMin = 0.1

// NewSoak returns an empty plot.
func NewSoak(host Host) *Soak {
	s := &Soak{host: host, Chart: NewChart(), time: widget.NewLabel("")}
	s.Chart.OnAt = func(minutes float64) { s.goTo(minutes) }
	s.Slider = widget.NewSlider(0, 1)
	s.Slider.Step = stepMin
	s.Slider.OnChanged = func(minutes float64) {
		if !s.telling {
			s.goTo(minutes)
		}
	}
	s.Peaks = widget.NewButton(phrase.Of("Peaks"), func() {
		host.Look(func(a *desk.Attention) { a.Timed, a.TimeS = false, 0 })
	})
	s.content = container.NewVBox(s.Chart, container.NewBorder(nil, nil, nil, container.NewHBox(s.time, s.Peaks), s.Slider))
	s.Hide()
	s.ExtendBaseWidget(s)
	return s
}

// goTo shows the scene at a time. Bare numbers: minutes, as the slider.
func (s *Soak) goTo(minutes float64) {
	at := math.Round(minutes/stepMin) * stepMin
	s.host.Look(func(a *desk.Attention) { a.Timed, a.TimeS = true, at*60 })
}

// Update shows a state.
func (s *Soak) Update(st *desk.State, a *desk.Attention) {
	chart, ok := desk.SoakChart(st, a)
	if s.Hidden == ok {
		s.Hidden = !ok
		s.Refresh()
	}
	if !ok {
		return
	}
	s.Chart.SetChart(chart)
	s.telling = true
	defer func() { s.telling = false }()
	if s.Slider.Max != chart.X[1] {
		s.Slider.Max = chart.X[1]
		s.Slider.Refresh()
	}
	at, text := 0.0, "peaks"
	if a.Timed {
		at, text = a.TimeS/60, units.FormatMin(a.TimeS)
	}
	if s.Slider.Value != at {
		s.Slider.SetValue(at)
	}
	if s.time.Text != text {
		s.time.SetText(text)
	}
	enable(s.Peaks, a.Timed)
}

// CreateRenderer is the toolkit's.
func (s *Soak) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.content) }
