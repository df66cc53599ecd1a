package desk

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"aftbay/geom/drop"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// DropPage lists the limits for the window, judged where the group is
// previewed: what fails there on top, then the first to stop the group.
func DropPage(r *drop.Result, nowMM float64) Table {
	out := Table{Columns: []Column{text(phrase.Of("limit")), number(phrase.Of("down to mm")), number(phrase.Of("left mm")), text(phrase.Of("source"))}}
	for i := range r.Limits {
		l := &r.Limits[i]
		if !telling(*l, r) {
			continue
		}
		row := Row{Key: l.Name.String(), Verdict: "ok", Cells: []string{phrase.Say(l.Name), "never", "", phrase.Say(l.Source)}}
		if l.MostMM != nil {
			row.Cells[1], row.Cells[2] = units.NumberMM(*l.MostMM), units.NumberMM(*l.MostMM-nowMM)
		}
		switch {
		case !holdsAt(l.WindowsMM, nowMM):
			row.Verdict = "short"
			row.Cells[2] = firstHeld(l.WindowsMM, nowMM)
		case l.MostMM != nil && l.Reached && *l.MostMM-nowMM < nearLimitMM:
			row.Verdict = "close"
		}
		out.Rows = append(out.Rows, row)
	}
	slices.SortStableFunc(out.Rows, func(a, b Row) int {
		return cmp.Compare(btoi(b.Verdict == "short"), btoi(a.Verdict == "short"))
	})
	return out
}

// firstHeld says from where below a limit that fails now holds: there is nothing
// left before it.
func firstHeld(windows []drop.Window, nowMM float64) string {
	for _, w := range windows {
		if w[0] > nowMM {
			return phrase.F("from %s", units.NumberMM(w[0]))
		}
	}
	return ""
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// nearLimitMM is how much drop left counts as close to a limit, as for
// clearances.
const nearLimitMM = 2

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
		return 0, say.Errorf("the drop is studied from %s to %s", units.NumberMM(s.Range[0]), units.FormatMM(s.Range[1]))
	}
	return dropMM, nil
}

// DropLine says in a few words where the previewed drop stands.
func DropLine(s *State) (line, verdict string) {
	r := s.Answers.Drop.Value
	switch {
	case s.Range[0] == s.Range[1]:
		return phrase.Of("this layout studies no drop"), ""
	case r == nil && s.Answers.Drop.Err != nil:
		return phrase.Err(s.Answers.Drop.Err), ""
	case r == nil:
		return phrase.Of("looking for what stops it …"), ""
	case s.ShiftMM != 0:
		return shiftedLine(s)
	}
	window := r.WindowMM
	if window == nil {
		window = r.ReachMM
	}
	if window == nil {
		return DropSentence(r), "short"
	}
	stop := r.Binding.High
	for _, e := range r.Ends {
		if s.DropMM >= e.WindowMM[0] && s.DropMM <= e.WindowMM[1] {
			window, stop = &e.WindowMM, e.High // another window than the first
		}
	}
	switch {
	case stop != nil && s.DropMM > window[1]:
		return phrase.F("%s too low: stopped at %s, %s", units.FormatMM(s.DropMM-window[1]), units.FormatMM(stop.DropMM), phrase.Say(stop.Event)), "short"
	case s.DropMM < window[0]:
		return phrase.F("must come down to %s at least", units.FormatMM(window[0])), "short"
	case r.WindowMM == nil:
		return phrase.F("%s left; some checks fail at every drop", units.FormatMM(window[1]-s.DropMM)), "close"
	}
	if stop != nil && window[1]-s.DropMM < nearLimitMM {
		verdict = "close"
	} else {
		verdict = "ok"
	}
	return phrase.F("%s left", units.FormatMM(window[1]-s.DropMM)), verdict
}

// LimitMM returns the drop at the end of the window: where "to the limit" goes.
func LimitMM(s *State) (dropMM float64, ok bool) {
	if r := s.Answers.Drop.Value; r != nil && s.ShiftMM == 0 {
		return endOf(r)
	}
	if c := mapColumn(s); c != nil && len(c.WindowsMM) > 0 {
		return c.WindowsMM[len(c.WindowsMM)-1][1], true
	}
	return 0, false
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

// DropWords returns the sentence of the page and the notes below its plots.
func DropWords(s *State) (sentence string, notes []string) {
	a := &s.Answers.Drop
	switch {
	case a.Err != nil:
		return phrase.Err(a.Err), nil
	case a.Value == nil && s.Open && s.Doc.Drop == nil:
		return phrase.Of("This layout studies no drop: add drop with a group and a range to the layout file."), nil
	case a.Value == nil:
		return phrase.Of("Looking for what stops it …"), nil
	}
	sentence = DropSentence(a.Value)
	if !a.Fresh {
		sentence = phrase.Of("Before the last change: ") + sentence
	}
	return sentence, append(otherWindows(a.Value), phrase.All(a.Value.Notes)...)
}

// BuysPage returns what the drop buys and what exchanges of parts would change.
func BuysPage(s *State) (buys, swaps Table) {
	if r := s.Answers.Drop.Value; r != nil {
		buys = GainTable(r, Stand{s.DropMM, s.ShiftMM})
	}
	a := &s.Answers.Swaps
	switch {
	case a.Value != nil:
		swaps = SwapTable(a.Value.Rows)
		if !a.Fresh {
			swaps.Foot = []string{phrase.Of("Before the last change.")}
		}
	case a.Job.Running:
		swaps.Foot = []string{phrase.Of("Studying the alternatives …")}
	case a.Err != nil:
		swaps.Foot = []string{phrase.Err(a.Err)}
	case s.Doc != nil && len(drop.Alternatives(s.Doc)) > 0:
		swaps.Foot = []string{phrase.Of("The alternatives are studied after the drop as it is.")}
	default:
		swaps.Foot = []string{phrase.Of("No part has alternatives: give a part alternatives with a name and a mesh in the layout file.")}
	}
	return buys, swaps
}

// MassPage returns the masses, the heaviest first, the sums on top.
func MassPage(s *State) Table {
	r := s.Answers.Drop.Value
	if r == nil {
		return Table{}
	}
	full := MassTable(&r.Mass)
	t := Table{Columns: []Column{text(phrase.Of("part or sum")), number(phrase.Of("kg")), number(phrase.Of("cg x")), number(phrase.Of("cg y")), number(phrase.Of("cg z")), text(phrase.Of("known"))}, Foot: full.Foot}
	n := len(r.Mass.Parts)
	for _, row := range append(slices.Clone(full.Rows[n:]), full.Rows[:n]...) {
		c := row.Cells
		known := c[3]
		if known != drop.Given && c[7] != "" {
			known = strings.TrimPrefix(known+": "+c[7], ": ")
		}
		row.Cells = []string{c[0], c[2], c[4], c[5], c[6], known}
		t.Rows = append(t.Rows, row)
	}
	kg := map[string]float64{} // a part without one comes first
	for i := range r.Mass.Parts {
		kg[r.Mass.Parts[i].Part] = math.Inf(1)
		if given := r.Mass.Parts[i].Kg; given != nil {
			kg[r.Mass.Parts[i].Part] = *given
		}
	}
	slices.SortStableFunc(t.Rows[len(t.Rows)-n:], func(a, b Row) int { return cmp.Compare(kg[b.Key], kg[a.Key]) })
	return t
}
