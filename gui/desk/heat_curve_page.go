package desk

import (
	"math"

	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// curvesShown is how many parts a plot of a soak shows when none is chosen.
const curvesShown = 4

// SoakChart returns the plot of the case that is looked at: the chosen part with
// its band, its limit, its peak and when it is above the limit; without one, the
// parts nearest to their limit. ok is false in a standing case.
func SoakChart(s *State, a *Attention) (c Chart, ok bool) {
	endS := SoakEndS(s, a)
	if endS == 0 {
		return c, false
	}
	c = Chart{Title: "temperature", Unit: "°C", Against: phrase.Of("minutes after key-off"), X: [2]float64{0, endS / 60}, At: -1}
	if a.Timed {
		c.At = a.TimeS / 60
	}
	if p := chosenPart(s, a); p != nil && len(p.Curve) > 1 {
		c.Title = p.Name + ": temperature"
		c.followPart(p)
	} else {
		for _, p := range nearest(s.Answers.Heat.Value.Cases[a.Case].Parts, curvesShown) {
			c.Lines = append(c.Lines, curveOf(p, p.Name, func(at balance.Sample) float64 { return at.TemperatureDegC }))
		}
	}
	if len(c.Lines) == 0 {
		return c, false
	}
	c.bound()
	return c, true
}

// SoakEndS returns how long the case that is looked at lasts after key-off, 0
// for a standing one.
func SoakEndS(s *State, a *Attention) (endS float64) {
	r := s.Answers.Heat.Value
	if r == nil || a.Case < 0 || a.Case >= len(r.Cases) {
		return 0
	}
	return r.EndS(a.Case)
}

// followPart draws one part.
func (c *Chart) followPart(p *balance.PartHeat) {
	c.Lines = append(c.Lines, curveOf(p, "nominal", func(at balance.Sample) float64 { return at.TemperatureDegC }))
	low := curveOf(p, "low", func(at balance.Sample) float64 { return at.LowDegC })
	high := curveOf(p, "high", func(at balance.Sample) float64 { return at.HighDegC })
	low.Thin, high.Thin = true, true
	c.Lines = append(c.Lines, low, high)
	if p.LimitDegC != nil {
		limit := *p.LimitDegC
		c.Lines = append(c.Lines, ChartLine{Name: "limit " + units.NumberDegC(limit), X: []float64{c.X[0], c.X[1]}, Y: []float64{limit, limit}, Limit: true})
		c.Bad = above(p.Curve, limit)
	}
	if p.PeakTimeS != nil {
		c.Marks = append(c.Marks, ChartMark{
			X: *p.PeakTimeS / 60, Y: p.Temperature.NominalDegC,
			Text: "peak " + units.FormatDegC(p.Temperature.NominalDegC) + " at " + units.FormatMin(*p.PeakTimeS),
		})
	}
}

// curveOf returns a curve of a part against minutes. Bare numbers: value in °C.
func curveOf(p *balance.PartHeat, name string, value func(at balance.Sample) float64) ChartLine {
	l := ChartLine{Name: name}
	for _, at := range p.Curve {
		l.X, l.Y = append(l.X, at.TimeS/60), append(l.Y, value(at))
	}
	return l
}

// nearest returns the parts that are nearest to their limit, those without one
// left out; they keep the order of the table.
func nearest(parts []balance.PartHeat, most int) []*balance.PartHeat {
	var out []*balance.PartHeat
	for _, p := range sortedHeat(parts) {
		if p.LimitDegC != nil && len(p.Curve) > 1 && len(out) < most {
			out = append(out, p)
		}
	}
	return out
}

// above returns when the high end of a curve is above a limit, in minutes, straight
// between its points.
func above(curve []balance.Sample, limitDegC float64) []drop.Window {
	var out []drop.Window
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		from, to := a.HighDegC-limitDegC, b.HighDegC-limitDegC
		if from <= 0 && to <= 0 {
			continue
		}
		crossS := func() float64 { return a.TimeS + (b.TimeS-a.TimeS)*math.Abs(from)/math.Abs(from-to) }
		begin, end := a.TimeS, b.TimeS
		if from < 0 {
			begin = crossS()
		}
		if to < 0 {
			end = crossS()
		}
		if n := len(out); n > 0 && out[n-1][1] >= begin/60 {
			out[n-1][1] = end / 60
			continue
		}
		out = append(out, drop.Window{begin / 60, end / 60})
	}
	return out
}
