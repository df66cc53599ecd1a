package desk

import (
	"math"
	"slices"

	"aftbay/geom/drop"
	"aftbay/gui/phrase"
)

// against is what the curves of the drop stand over. Read-only.
var against = phrase.Of("the drop in mm")

// drawnClearances is how many clearances are drawn: those that end the drop
// first.
const drawnClearances = 4

// DropCharts returns the plots of the drop page against the drop: height over
// ground, half-shaft angles, the clearances that end the drop first, and the
// angles under the car.
func DropCharts(s *State) []Chart {
	r := s.Answers.Drop.Value
	if r == nil || len(r.Curve) == 0 || s.Doc == nil {
		return nil
	}
	var out []Chart
	for _, c := range []Chart{groundChart(s, r), shaftChart(s, r), clearanceChart(r), angleChart(s, r)} {
		if len(c.Lines) == 0 {
			continue
		}
		c.Against, c.X, c.At, c.Good = against, r.RangeMM, s.DropMM, r.WindowsMM
		if r.WindowMM == nil && r.ReachMM != nil {
			c.Good = []drop.Window{*r.ReachMM}
		}
		c.merge()
		c.bound()
		out = append(out, c)
	}
	return out
}

func groundChart(s *State, r *drop.Result) Chart {
	c := Chart{Title: phrase.Of("height over ground"), Unit: "mm"}
	v := s.Doc.Vehicle
	if v == nil {
		return c
	}
	for _, att := range v.Attitudes {
		c.follow(r, att.Name, func(p *drop.Point) (float64, bool) { v, ok := p.GroundMM[att.Name]; return v, ok })
		c.limit(r, "least "+att.Name, att.LeastGroundMM)
	}
	if v.LeastUnderAxleMM != nil {
		c.follow(r, phrase.Of("arc under the front axle"), func(p *drop.Point) (float64, bool) { return valueOf(p.UnderAxleMM.FrontMM) })
		c.follow(r, phrase.Of("arc under the rear axle"), func(p *drop.Point) (float64, bool) { return valueOf(p.UnderAxleMM.RearMM) })
		c.limit(r, phrase.Of("least under an axle"), v.LeastUnderAxleMM)
	}
	return c
}

func shaftChart(s *State, r *drop.Result) Chart {
	c := Chart{Title: phrase.Of("half-shaft angle"), Unit: "°"}
	for k, shaft := range s.Doc.HalfShafts {
		c.follow(r, shaft.Name+phrase.Of(", largest of the travel"), func(p *drop.Point) (float64, bool) { return worstDeg(p, k) })
		if shaft.LimitDeg != nil {
			c.limit(r, "limit "+shaft.Name, shaft.LimitDeg.TravelDeg)
		}
	}
	return c
}

// clearanceChart draws what is left of the clearances that end a window, then
// of those that end the drop first.
func clearanceChart(r *drop.Result) Chart {
	c := Chart{Title: phrase.Of("clearance left over what is asked"), Unit: "mm"}
	ends := map[string]bool{}
	for _, e := range append(slices.Clone(r.Ends), drop.Ends{Low: r.Binding.Low, High: r.Binding.High}) {
		for _, stop := range []*drop.Stop{e.Low, e.High} {
			if stop != nil {
				ends[stop.Limit.String()] = true
			}
		}
	}
	for _, first := range []bool{true, false} {
		for i := range r.Limits {
			l := &r.Limits[i]
			if ends[l.Name.String()] == first && len(c.Lines) < drawnClearances {
				c.left(r, l)
			}
		}
	}
	if len(c.Lines) > 0 {
		none := 0.0
		c.limit(r, phrase.Of("what is asked"), &none)
	}
	return c
}

// left adds what is left of a clearance; other limits have plots of their own.
func (c *Chart) left(r *drop.Result, l *drop.Limit) {
	if (l.Kind != drop.KindClearance && l.Kind != drop.KindDeck) || len(l.Values) != len(r.Curve) {
		return
	}
	line := ChartLine{Name: phrase.Say(l.Name)}
	for k, v := range l.Values {
		if v != nil {
			line.X, line.Y = append(line.X, r.Curve[k].DropMM), append(line.Y, *v-l.Allowed)
		}
	}
	if len(line.X) > 1 {
		c.Lines = append(c.Lines, line)
	}
}

func angleChart(s *State, r *drop.Result) Chart {
	c := Chart{Title: phrase.Of("departure and ramp angle by the tyre tangent"), Unit: "°"}
	v := s.Doc.Vehicle
	if v == nil {
		return c
	}
	c.follow(r, "departure", func(p *drop.Point) (float64, bool) { return valueOf(p.DepartureDeg) })
	c.limit(r, phrase.Of("least departure"), v.LeastDepartureDeg)
	c.follow(r, "ramp", func(p *drop.Point) (float64, bool) { return valueOf(p.RampDeg) })
	c.limit(r, phrase.Of("least ramp"), v.LeastRampDeg)
	return c
}

func valueOf(v *float64) (float64, bool) { // Bare numbers: in the chart's unit
	if v == nil {
		return 0, false
	}
	return *v, true
}

func worstDeg(p *drop.Point, k int) (deg float64, ok bool) {
	if k >= len(p.HalfShafts) {
		return 0, false
	}
	h := p.HalfShafts[k]
	return math.Max(h.StaticDeg, math.Max(h.BumpDeg, h.ReboundDeg)), true
}

// follow adds a curve through the points that have a value.
func (c *Chart) follow(r *drop.Result, name string, value func(p *drop.Point) (float64, bool)) {
	line := ChartLine{Name: name}
	for i := range r.Curve {
		if y, ok := value(&r.Curve[i]); ok {
			line.X, line.Y = append(line.X, r.Curve[i].DropMM), append(line.Y, y)
		}
	}
	if len(line.X) > 1 {
		c.Lines = append(c.Lines, line)
	}
}

// limit adds a level line. Bare numbers: as the chart's.
func (c *Chart) limit(r *drop.Result, name string, at *float64) {
	if at != nil {
		c.Lines = append(c.Lines, ChartLine{Name: name, X: []float64{r.RangeMM[0], r.RangeMM[1]}, Y: []float64{*at, *at}, Limit: true})
	}
}

// merge leaves out curves that repeat one before: both sides of a car.
func (c *Chart) merge() {
	var kept []ChartLine
	for _, l := range c.Lines {
		same := -1
		for i := range kept {
			if kept[i].Limit == l.Limit && alike(kept[i].Y, l.Y) {
				same = i
			}
		}
		if same < 0 {
			kept = append(kept, l)
		}
	}
	c.Lines = kept
}

// alike reports whether two curves could not be told apart on the plot.
// Bare numbers: as the chart's.
func alike(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > 0.01 {
			return false
		}
	}
	return true
}

// bound sets the range of the value axis, with room above and below.
func (c *Chart) bound() {
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range c.Lines {
		for _, y := range l.Y {
			low, high = math.Min(low, y), math.Max(high, y)
		}
	}
	room := 0.08*(high-low) + 0.5
	c.Y = [2]float64{low - room, high + room}
}
