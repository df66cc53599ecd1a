package desk

import (
	"strings"

	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// LimitDecision is the key under which a limit of the drop is settled: that of
// its finding where it is one, "" where there is no such limit.
func LimitDecision(s *State, limit string) string {
	if finding, _ := LimitOf(s, limit); finding != "" || limitNamed(s, limit) == nil {
		return finding
	}
	return "drop: " + limit
}

// HeatDecision is the key under which the temperature of the selected part is
// settled, "" where it has no limit.
func HeatDecision(s *State, a *Attention) string {
	p := chosenPart(s, a)
	if p == nil || p.LimitDegC == nil {
		return ""
	}
	return "heat: " + p.Name + " @ " + s.Answers.Heat.Value.Cases[a.Case].Name
}

// SightDecision is the key under which what the page of the rear view is on is
// settled: the chosen finding, else the rule asked for; "" without either.
func SightDecision(s *State, a *Attention) string {
	v := s.Answers.Seen.Value
	switch {
	case HasFinding(s, a.Finding):
		return a.Finding
	case v == nil || v.Result == nil:
		return ""
	}
	return seenKey(v.Result.Required.Rule)
}

// PlaceDecision is the key under which it is settled that a component has no
// place, "" where it has one.
func PlaceDecision(s *State, a *Attention) string {
	st := StudyOf(s, a)
	if st == nil || len(st.Spots) > 0 || s.Answers.Spots.Rough {
		return ""
	}
	return "place: " + st.Name
}

// limitNamed returns a limit of the drop, nil if there is none of that name.
func limitNamed(s *State, name string) *drop.Limit {
	if r := s.Answers.Drop.Value; r != nil {
		for i := range r.Limits {
			if r.Limits[i].Name.String() == name {
				return &r.Limits[i]
			}
		}
	}
	return nil
}

// trendWords say what becomes of a margin on the way down. Read-only.
var trendWords = map[string]string{
	"falls": phrase.Of("Going down uses it up."), "rises": phrase.Of("Going down gives room."),
	"steady": phrase.Of("Going down changes nothing."), "turns": phrase.Of("On the way down it gives room first and then takes it, or the other way round."),
}

// LimitText tells all about a limit of the drop that is no clearance: what is
// asked, where it holds, its source.
func LimitText(s *State, name string) []string {
	l := limitNamed(s, name)
	if l == nil {
		return nil
	}
	asked := units.FormatMM(l.Allowed)
	if l.Unit == "deg" {
		asked = units.FormatDeg(l.Allowed)
	}
	line := phrase.F("%s: at least %s asked.", l.Name, asked)
	if l.Most() {
		line = phrase.F("%s: at most %s asked.", l.Name, asked)
	}
	lines := []string{line, heldText(l.WindowsMM) + " " + trendWords[l.Trend]}
	if !l.Source.IsZero() {
		lines = append(lines, phrase.F("Source: %s.", strings.TrimSuffix(phrase.Say(l.Source), ".")))
	}
	if settled := DecisionText(s, "drop: "+name); settled != "" {
		lines = append(lines, settled)
	}
	return lines
}

// heldText says at which drops a limit holds.
func heldText(windows []drop.Window) string {
	if len(windows) == 0 {
		return phrase.Of("It holds nowhere in the range studied.")
	}
	var parts []string
	for _, w := range windows {
		parts = append(parts, phrase.F("%s to %s", units.NumberMM(w[0]), units.FormatMM(w[1])))
	}
	return phrase.F("It holds at %s down.", strings.Join(parts, phrase.Of(" and ")))
}
