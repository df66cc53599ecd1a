package desk

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Slide is what the wall shows of one concern.
type Slide struct {
	Key      string
	Verdict  string
	Word     string // the verdict in words
	Title    string
	Under    string // state, and what is to be known to read the rest
	Figures  []Figure
	Lines    []string // rule, source, cautions
	Decision layout.Decision
	Gone     bool // the answers know no such thing any more
	Stale    bool // of an earlier state: computing
}

// Figure is a number that is read from the back of the room.
type Figure struct {
	Head, Number, Unit string
	Verdict            string // of the one that is judged, "" for the others
}

// SlideOf returns the slide of a concern.
func SlideOf(s *State, key string) Slide {
	out := Slide{Key: key, Decision: DecisionOf(s.Doc, key), Title: findingWords(key)}
	c, ok := ConcernOf(s, key)
	if !ok {
		out.Gone, out.Word = true, phrase.Of("no such finding any more")
		return out
	}
	out.Verdict, out.Word, out.Title, out.Under = c.Verdict, phrase.Word(c.Verdict), c.What, phrase.Word(c.State)
	switch {
	case c.Page == Fits:
		out.pair(s, findingOf(s, key))
	case c.Page == Heats:
		out.heat(s, &c)
	default:
		out.Figures = []Figure{{Head: strings.TrimSuffix(QuestionText(c.Page), "?"), Number: c.Value, Verdict: c.Verdict}}
		if c.Asked != "" {
			out.Figures = append(out.Figures, Figure{Head: "asked", Number: c.Asked})
		}
		out.Lines = []string{s.Tiles[c.Page].Answer}
	}
	return out
}

// pair fills the slide of a finding: the gap, what is asked, how the gap is used
// up, and the source.
func (o *Slide) pair(s *State, p *clearance.Pair) {
	o.Stale = !s.Answers.Fit.Fresh
	gap := Figure{Head: "gap", Number: units.NumberMM(p.ClearanceMM), Unit: "mm", Verdict: p.Verdict}
	if p.Overlap {
		gap.Head, gap.Number = "overlap", units.NumberMM(-p.ClearanceMM)
	}
	o.Figures = append(o.Figures, gap)
	if p.LeastMM != nil {
		o.Figures = append(o.Figures, Figure{Head: "asked", Number: units.NumberMM(*p.LeastMM), Unit: "mm"})
	}
	if p.MarginMM != nil {
		o.Figures = append(o.Figures, Figure{Head: "margin", Number: units.NumberMM(*p.MarginMM), Unit: "mm"})
	}
	if t := BudgetTable(s, p.ID); len(t.Rows) > 0 && p.State != layout.StateStatic {
		var parts []string
		for k, c := range t.Columns {
			if c.Head != "required" && c.Head != "margin" {
				parts = append(parts, c.Head+" "+t.Rows[0].Cells[k])
			}
		}
		o.Lines = append(o.Lines, strings.Join(parts, "  ")+" mm")
	}
	if !p.Rule.IsZero() {
		o.Lines = append(o.Lines, phrase.Of("Rule ")+phrase.Say(p.Rule)+". Source: "+sourceText(p))
	} else {
		o.Lines = append(o.Lines, phrase.Of("No rule speaks of this pair in this state"))
	}
	for _, group := range sortedKeys(p.WorstPose) {
		o.Lines = append(o.Lines, phrase.Of("Nearest with ")+group+" at "+shiftText(p.WorstPose[group]))
	}
	if m := p.MoveOutMM; m != nil {
		o.Lines = append(o.Lines, phrase.F("Moving %s by x %s, y %s, z %s mm ends the overlap", p.B, units.NumberMM(m[0]), units.NumberMM(m[1]), units.NumberMM(m[2])))
	}
}

// heat fills the slide of a temperature with its band, its limit and the words
// that stand beside every one.
func (o *Slide) heat(s *State, c *Concern) {
	h := &s.Answers.Heat
	o.Stale = !h.Fresh && !h.Rough
	for i := range h.Value.Cases[c.Case].Parts {
		p := &h.Value.Cases[c.Case].Parts[i]
		if p.Name != c.What {
			continue
		}
		o.Figures = []Figure{
			{Head: "low", Number: units.NumberDegC(p.Temperature.LowDegC), Unit: "°C"},
			{Head: "nominal", Number: units.NumberDegC(p.Temperature.NominalDegC), Unit: "°C", Verdict: p.Verdict},
			{Head: "high", Number: units.NumberDegC(p.Temperature.HighDegC), Unit: "°C"},
		}
		if p.LimitDegC != nil {
			o.Figures = append(o.Figures, Figure{Head: "limit", Number: units.NumberDegC(*p.LimitDegC), Unit: "°C"})
			o.Lines = append(o.Lines, phrase.Of("Limit: ")+limitSource(p))
		}
		if from := sharesText(p.From); from != "" {
			o.Lines = append(o.Lines, phrase.Of("Heated by ")+from)
		}
	}
	o.Lines = append(o.Lines, HeatCaution)
}

// ReviewSummary lists what the review settled: an item a row, who does what by
// when, and how long it took.
func ReviewSummary(s *State, r *Review, now time.Time) Table {
	t := Table{Columns: []Column{text(phrase.Of("finding")), text(phrase.Of("now")), text(phrase.Of("decision")), text(phrase.Of("owner")), text(phrase.Of("due")), text(phrase.Of("to be done")), number(phrase.Of("time"))}}
	if s.Doc == nil {
		return t
	}
	var decided, open, untouched int
	for i, key := range r.Keys {
		c, found := ConcernOf(s, key)
		d := DecisionOf(s.Doc, key)
		row := Row{Key: key, Verdict: c.Verdict, Parts: c.Parts, Cells: []string{findingWords(key), c.Value, stateWord(d.State), d.Owner, d.Due, d.Notes, clockText(r.spent[i])}}
		if !found {
			row.Cells[1] = "gone"
		}
		switch {
		case settled(d.State):
			decided++
		case d.Settled() == layout.Settled{}:
			untouched++
			row.Cells[2] = "none"
		default:
			open++
		}
		t.Rows = append(t.Rows, row)
	}
	_, all := r.Spent(now)
	t.Foot = append(t.Foot, phrase.F("%d decided, %d open, %d without a word; %s in all", decided, open, untouched, clockText(all)))
	if who := owners(s, r.Keys); who != "" {
		t.Foot = append(t.Foot, phrase.Of("By ")+who)
	}
	return t
}

// owners says who has how much to do and the first day of it.
func owners(s *State, keys []string) string {
	count, first := map[string]int{}, map[string]string{}
	for _, key := range keys {
		d := DecisionOf(s.Doc, key)
		if d.Owner == "" {
			continue
		}
		count[d.Owner]++
		if d.Due != "" && (first[d.Owner] == "" || d.Due < first[d.Owner]) {
			first[d.Owner] = d.Due
		}
	}
	var parts []string
	for _, who := range sortedKeys(count) {
		text := fmt.Sprintf("%s: %d", who, count[who])
		if first[who] != "" {
			text += phrase.Of(", first due ") + first[who]
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// ParseDue reads a due day as it is typed: a day such as 2027-01-31, or from
// today on "+10" days or "+2w" weeks.
func ParseDue(typed string, today time.Time) (day string, err error) {
	typed = strings.TrimSpace(typed)
	ahead, relative := strings.CutPrefix(typed, "+")
	if !relative {
		if _, err := time.Parse(time.DateOnly, typed); typed != "" && err != nil {
			return "", say.Errorf("due %q: give a day such as 2027-01-31, or +10 for ten days from today, +2w for two weeks", typed)
		}
		return typed, nil
	}
	days := 1
	if weeks, ok := strings.CutSuffix(ahead, "w"); ok {
		ahead, days = weeks, 7
	}
	n, err := strconv.Atoi(strings.TrimSpace(ahead))
	if err != nil || n < 0 || n > 5000 {
		return "", say.Errorf("due %q: give days or weeks from today as +10 or +2w", typed)
	}
	return today.AddDate(0, 0, n*days).Format(time.DateOnly), nil
}
