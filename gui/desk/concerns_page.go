package desk

import (
	"cmp"
	"fmt"
	"slices"

	"aftbay/geom/clearance"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// Concern is one judged answer of any question: what lists of every question
// and the slides of a review show.
type Concern struct {
	Key     string // of its decision; the finding's id where it is one
	Page    Question
	Verdict string
	What    string // what it speaks of
	State   string // or heat case
	Value   string // with its unit, as Asked and Margin
	Asked   string
	Margin  string
	Parts   []string
	Roles   []string
	Case    int // heat case
}

// Concerns lists what fails and what is close, of all questions: by verdict,
// then in the order of the questions, the most pressing first.
func Concerns(s *State) []Concern {
	out := fitConcerns(s)
	out = append(out, dropConcerns(s)...)
	out = append(out, sightConcerns(s)...)
	out = append(out, heatConcerns(s)...)
	out = append(out, spotConcerns(s)...)
	slices.SortStableFunc(out, func(a, b Concern) int { return cmp.Compare(gravity(a.Verdict), gravity(b.Verdict)) })
	return out
}

// gravity orders verdicts of all questions, the gravest first.
func gravity(verdict string) int {
	switch verdict {
	case clearance.Overlap:
		return 0
	case clearance.Short, balance.Over:
		return 1
	case clearance.Close:
		return 2
	}
	return 3
}

func pairConcern(p *clearance.Pair) Concern {
	c := Concern{
		Key: p.ID, Page: Fits, Verdict: p.Verdict, What: p.A + " to " + p.B, State: p.State,
		Value: units.FormatMM(p.ClearanceMM), Parts: []string{p.A, p.B}, Roles: []string{p.RoleA, p.RoleB},
	}
	if p.LeastMM != nil {
		c.Asked = units.FormatMM(*p.LeastMM)
	}
	if p.MarginMM != nil {
		c.Margin = units.FormatMM(*p.MarginMM)
	}
	return c
}

func fitConcerns(s *State) (out []Concern) {
	if r := s.Answers.Fit.Value; r != nil {
		for _, p := range Pressing(r) {
			if !clearance.Fails(p.Verdict) && p.Verdict != clearance.Close {
				break // the rest is less pressing
			}
			out = append(out, pairConcern(p))
		}
	}
	return out
}

// dropConcerns are the limits of the drop that fail where the group stands and
// are no clearance: those stand among the findings.
func dropConcerns(s *State) (out []Concern) {
	r := s.Answers.Drop.Value
	if r == nil {
		return nil
	}
	for _, row := range DropPage(r, s.DropMM).Rows {
		finding, part := LimitOf(s, row.Key)
		if row.Verdict == clearance.OK || finding != "" {
			continue
		}
		c := Concern{Key: "drop: " + row.Key, Page: Lowers, Verdict: row.Verdict, What: row.Key, Value: units.FormatMM(s.DropMM) + " down"}
		if row.Cells[1] != "never" && row.Cells[1] != "" {
			c.Asked = "to " + row.Cells[1] + phrase.Of(" mm at most")
		}
		c.name(s, part)
		out = append(out, c)
	}
	return out
}

// seenKey is the key under which a rule of the rear view is settled.
func seenKey(rule string) string {
	c := Concern{Key: "rear view: " + rule}
	return c.Key
}

func sightConcerns(s *State) (out []Concern) {
	v := s.Answers.Seen.Value
	if v == nil || v.Result == nil {
		return nil
	}
	for i := range v.Result.Rules {
		a := &v.Result.Rules[i]
		if a.Required.Met {
			continue
		}
		c := Concern{Key: seenKey(a.Required.Rule), Page: Sees, Verdict: clearance.Short, What: a.Required.Rule, Value: Percent(a.Seen.EitherShare) + " % seen"}
		c.Asked = Percent(a.Required.LeastShare) + " %"
		if len(a.LostBy) > 0 {
			c.name(s, a.LostBy[0].Part)
		}
		out = append(out, c)
	}
	return out
}

func heatConcerns(s *State) (out []Concern) {
	r := s.Answers.Heat.Value
	if r == nil {
		return nil
	}
	for k := range r.Cases {
		for _, p := range sortedHeat(r.Cases[k].Parts) {
			if p.Verdict != balance.Over && p.Verdict != balance.Close {
				break // the rest keeps its limit
			}
			out = append(out, heatConcern(s, k, p))
		}
	}
	slices.SortStableFunc(out, func(a, b Concern) int { return cmp.Compare(gravity(a.Verdict), gravity(b.Verdict)) })
	return out
}

func heatConcern(s *State, k int, p *balance.PartHeat) Concern {
	in := s.Answers.Heat.Value.Cases[k].Name
	c := Concern{
		Key: "heat: " + p.Name + " @ " + in, Page: Heats, Verdict: p.Verdict, What: p.Name, State: in, Case: k,
		Value: units.NumberDegC(p.Temperature.LowDegC) + " to " + units.FormatDegC(p.Temperature.HighDegC),
	}
	if p.LimitDegC != nil {
		c.Asked = units.FormatDegC(*p.LimitDegC)
	}
	if p.HighMarginK != nil { // the verdict is that of the high end
		c.Margin = fmt.Sprintf("%.0f K", *p.HighMarginK)
	}
	c.name(s, p.Name)
	return c
}

func spotConcerns(s *State) (out []Concern) {
	r := s.Answers.Spots.Value
	if r == nil {
		return nil
	}
	for i := range r.Studies {
		if st := &r.Studies[i]; len(st.Spots) == 0 {
			out = append(out, Concern{Key: "place: " + st.Name, Page: Mounts, Verdict: clearance.Short, What: phrase.Of("a place for ") + st.Name, Value: phrase.Of("none found"), Case: i})
		}
	}
	return out
}

// name adds a part that a concern speaks of, with its role.
func (c *Concern) name(s *State, part string) {
	if s.Scene == nil || part == "" {
		return
	}
	if i, ok := s.Scene.Index(part); ok {
		c.Parts, c.Roles = append(c.Parts, part), append(c.Roles, s.Scene.Parts[i].Role)
	}
}

// ConcernOf returns the concern of a key as it is now; ok is false if the
// answers know no such thing any more. One that has come right is found too
// where it is a finding or a temperature.
func ConcernOf(s *State, key string) (c Concern, ok bool) {
	if p := findingOf(s, key); p != nil {
		return pairConcern(p), true
	}
	if r := s.Answers.Heat.Value; r != nil {
		for k := range r.Cases {
			for i := range r.Cases[k].Parts {
				p := &r.Cases[k].Parts[i]
				if key == "heat: "+p.Name+" @ "+r.Cases[k].Name {
					return heatConcern(s, k, p), true
				}
			}
		}
	}
	for _, list := range [][]Concern{dropConcerns(s), sightConcerns(s), spotConcerns(s)} {
		for _, c := range list {
			if c.Key == key {
				return c, true
			}
		}
	}
	return c, false
}

// LookAtConcern opens the page of a concern and looks at what it speaks of.
func LookAtConcern(a *Attention, c *Concern) {
	a.Page, a.Finding, a.Selected, a.Rank = c.Page, "", nil, 0
	switch c.Page {
	case Fits:
		a.Finding = c.Key
	case Heats:
		a.Case, a.Timed = c.Case, false
		a.Selected = c.Parts
	case Mounts:
		a.Study = c.Case
	default:
		a.Selected = c.Parts
	}
}
