package desk

import (
	"fmt"
	"math"
	"strings"

	"aftbay/geom/drop"
	"aftbay/geom/units"
)

// DropPage lists the limits for the window, the first to stop the group on top.
func DropPage(r *drop.Result) Table {
	t := DropTable(r)
	out := Table{Columns: []Column{text("limit"), number("down to mm"), text("source")}}
	for _, row := range t.Rows {
		row.Cells = []string{row.Cells[0], row.Cells[2], row.Cells[4]}
		if row.Cells[1] == "" {
			row.Cells[1] = "never"
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// LimitOf returns what a limit of the page speaks of: the finding of a clearance,
// or the part of its name; both are empty for the ground and the angles.
func LimitOf(s *State, limit string) (finding, part string) {
	if r := s.Answers.Fit.Value; r != nil {
		for i := range r.Pairs {
			p := &r.Pairs[i]
			if limit == p.A+" to "+p.B+", "+p.State || limit == p.B+" to "+p.A+", "+p.State {
				return p.ID, ""
			}
		}
	}
	name, _, _ := strings.Cut(limit, ", ")
	if s.Scene != nil {
		if _, ok := s.Scene.Index(name); ok {
			return "", name
		}
	}
	return "", ""
}

// ParseDrop reads a typed drop; it must lie in the range studied.
func ParseDrop(s *State, typed string) (dropMM float64, err error) {
	dropMM, err = units.ParseMM(typed)
	if err != nil {
		return 0, err
	}
	if dropMM < s.Range[0] || dropMM > s.Range[1] {
		return 0, fmt.Errorf("the drop is studied from %s to %s", units.NumberMM(s.Range[0]), units.FormatMM(s.Range[1]))
	}
	return dropMM, nil
}

// DropLine says in a few words where the previewed drop stands.
func DropLine(s *State) (line, verdict string) {
	r := s.Answers.Drop.Value
	switch {
	case s.Range[0] == s.Range[1]:
		return "this layout studies no drop", ""
	case r == nil && s.Answers.Drop.Err != nil:
		return s.Answers.Drop.Err.Error(), ""
	case r == nil:
		return "looking for what stops it …", ""
	}
	window := r.WindowMM
	if window == nil {
		window = r.ReachMM
	}
	stop := r.Binding.High
	switch {
	case window == nil:
		return DropSentence(r), "short"
	case stop != nil && s.DropMM > window[1]:
		return fmt.Sprintf("%s too low: stopped at %s, %s", units.FormatMM(s.DropMM-window[1]), units.FormatMM(stop.DropMM), afterColon(stop.Sentence)), "short"
	case s.DropMM < window[0]:
		return fmt.Sprintf("must come down to %s at least", units.FormatMM(window[0])), "short"
	case r.WindowMM == nil:
		return fmt.Sprintf("%s left; some checks fail at every drop", units.FormatMM(window[1]-s.DropMM)), "close"
	}
	return fmt.Sprintf("%s left", units.FormatMM(window[1]-s.DropMM)), "ok"
}

// Chart is a set of curves over one axis. Bare numbers: along X as Against says,
// the chart's Unit along Y.
type Chart struct {
	Title, Unit string
	Against     string     // what X is, with its unit
	X, Y        [2]float64 // ranges of the axes
	Lines       []ChartLine
	Good, Bad   []drop.Window // where everything holds, where a limit is passed
	Marks       []ChartMark
	At          float64 // where the reader stands; outside X: nowhere
}

// ChartLine is one curve, or a limit. Bare numbers: as its chart's.
type ChartLine struct {
	Name  string
	X, Y  []float64
	Limit bool
	Thin  bool // an edge of the band of the curve before it
}

// ChartMark is a point told apart. Bare numbers: as its chart's.
type ChartMark struct {
	X, Y float64
	Text string
}

// DropCharts returns the plots of the drop page: height over ground and
// half-shaft angles against the drop.
func DropCharts(s *State) []Chart {
	r := s.Answers.Drop.Value
	if r == nil || len(r.Curve) == 0 || s.Doc == nil {
		return nil
	}
	const against = "the drop in mm"
	ground := Chart{Title: "height over ground", Unit: "mm", Against: against}
	if s.Doc.Vehicle != nil {
		for _, att := range s.Doc.Vehicle.Attitudes {
			ground.follow(r, att.Name, func(p *drop.Point) (float64, bool) { v, ok := p.GroundMM[att.Name]; return v, ok })
			ground.limit(r, "least "+att.Name, att.LeastGroundMM)
		}
	}
	angle := Chart{Title: "half-shaft angle", Unit: "°", Against: against}
	for k, shaft := range s.Doc.HalfShafts {
		angle.follow(r, shaft.Name+", largest of the travel", func(p *drop.Point) (float64, bool) { return worstDeg(p, k) })
		if shaft.LimitDeg != nil {
			angle.limit(r, "limit "+shaft.Name, shaft.LimitDeg.TravelDeg)
		}
	}
	var out []Chart
	for _, c := range []Chart{ground, angle} {
		if len(c.Lines) == 0 {
			continue
		}
		c.X, c.At = r.RangeMM, s.DropMM
		if r.WindowMM != nil {
			c.Good = []drop.Window{*r.WindowMM}
		} else if r.ReachMM != nil {
			c.Good = []drop.Window{*r.ReachMM}
		}
		c.merge()
		c.bound()
		out = append(out, c)
	}
	return out
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

// DropWords returns the sentence of the page and the notes below its plots.
func DropWords(s *State) (sentence string, notes []string) {
	a := &s.Answers.Drop
	switch {
	case a.Err != nil:
		return a.Err.Error(), nil
	case a.Value == nil && s.Open && s.Doc.Drop == nil:
		return "This layout studies no drop: add drop with a group and a range to the layout file.", nil
	case a.Value == nil:
		return "Looking for what stops it …", nil
	}
	sentence = DropSentence(a.Value)
	if !a.Fresh {
		sentence = "Before the last change: " + sentence
	}
	return sentence, a.Value.Notes
}
