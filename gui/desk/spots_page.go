package desk

import (
	"fmt"
	"math"
	"strconv"

	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/spot"
)

// StudyNames lists the components that the layout seeks places for.
func StudyNames(s *State) []string {
	r := s.Answers.Spots.Value
	if r == nil {
		return nil
	}
	var names []string
	for i := range r.Studies {
		names = append(names, r.Studies[i].Name)
	}
	return names
}

// SpotsPage lists the places of a study, best first.
func SpotsPage(st *spot.Study) Table {
	t := Table{Columns: []Column{
		number(phrase.Of("rank")), text(phrase.Of("on")), number(phrase.Of("nominal °C")), number(phrase.Of("high")), number(phrase.Of("gap mm")), number(phrase.Of("lead mm")), number(phrase.Of("score")),
	}}
	for i := range st.Spots {
		sp := &st.Spots[i]
		nominal, high := "", ""
		if sp.Temperature != nil {
			nominal, high = units.NumberDegC(sp.Temperature.NominalDegC), units.NumberDegC(sp.Temperature.HighDegC)
		}
		t.Rows = append(t.Rows, Row{
			Cells: []string{
				strconv.Itoa(sp.Rank), sp.Host, nominal, high,
				optionalMM(sp.ClearanceMM), optionalMM(sp.ReachMM), scoreText(sp.Score),
			},
			Verdict: sp.Verdict, Key: strconv.Itoa(sp.Rank), Parts: []string{sp.Host},
		})
	}
	return t
}

// RefusedPage lists why places were refused.
func RefusedPage(st *spot.Study) Table {
	t := Table{Columns: []Column{text(phrase.Of("refused because")), number(phrase.Of("places")), text(phrase.Of("narrowest miss"))}}
	for _, r := range st.Refused {
		t.Rows = append(t.Rows, Row{Cells: []string{r.Reason, strconv.Itoa(r.Count), phrase.Say(r.Example)}, Key: r.Reason})
	}
	return t
}

// SpotsSentence says what a study found.
func SpotsSentence(s *State, st *spot.Study) string {
	a := &s.Answers.Spots
	switch {
	case a.Err != nil:
		return phrase.Err(a.Err)
	case a.Value == nil:
		return phrase.Of("Looking for places … (after the temperatures)")
	case len(a.Value.Studies) == 0:
		return phrase.Of("This layout seeks no place: add an entry under spots in the layout file.")
	case st == nil:
		return phrase.Of("Choose a component.")
	case phrase.Say(st.Sentence) != "":
		return phrase.Say(st.Sentence)
	}
	return phrase.F("%d places found for %s.", len(st.Spots), st.Name)
}

// PresentText says where the replaced part sits now, "" if nothing is replaced.
func PresentText(st *spot.Study) string {
	if st == nil || st.Present == nil || st.Present.Temperature == nil {
		return ""
	}
	p := st.Present
	return phrase.F("Now: %s at %s to %s, nominal %s (%s): %s.", p.Part, units.NumberDegC(p.Temperature.LowDegC),
		units.FormatDegC(p.Temperature.HighDegC), units.NumberDegC(p.Temperature.NominalDegC), p.WorstCase, p.Verdict)
}

// beforeText compares the place with where the replaced part sits now; "" where
// nothing is replaced or nothing is known of its heat.
func beforeText(st *spot.Study, sp *spot.Spot) string {
	if st == nil || st.Present == nil || st.Present.Temperature == nil || sp.Temperature == nil {
		return ""
	}
	now, then := st.Present.Temperature, sp.Temperature
	change := "cooler"
	diffK := now.NominalDegC - then.NominalDegC
	if diffK < 0 {
		diffK, change = -diffK, "hotter"
	}
	return phrase.F("Now %s to %s, nominal %s; here %s to %s, nominal %s: %s %s.",
		units.NumberDegC(now.LowDegC), units.FormatDegC(now.HighDegC), units.FormatDegC(now.NominalDegC),
		units.NumberDegC(then.LowDegC), units.FormatDegC(then.HighDegC), units.FormatDegC(then.NominalDegC), units.FormatK(diffK), change)
}

// JointText tells where all components can be mounted together, "" where the
// layout asks for one alone.
func JointText(s *State) string {
	r := s.Answers.Spots.Value
	if r == nil || r.Joint == nil {
		return ""
	}
	return phrase.Say(r.Joint.Sentence)
}

// SpotText tells all about one place, a line each.
func SpotText(st *spot.Study, sp *spot.Spot) []string {
	if sp == nil {
		return nil
	}
	lines := []string{
		phrase.Say(sp.Sentence),
		phrase.F("Place %d at x %.0f, y %.0f, z %.0f mm; score %s, set by %s; stands for %d more places beside it.", sp.Rank,
			sp.PointMM[0], sp.PointMM[1], sp.PointMM[2], scoreText(sp.Score), sp.ScoredBy, sp.Alike),
	}
	for _, c := range sp.Cases {
		line := phrase.F("%s: %s to %s, nominal %s", c.Case, units.NumberDegC(c.Temperature.LowDegC),
			units.FormatDegC(c.Temperature.HighDegC), units.NumberDegC(c.Temperature.NominalDegC))
		if c.LimitDegC != nil {
			line += ", limit " + units.FormatDegC(*c.LimitDegC)
		}
		lines = append(lines, line+": "+c.Verdict+".")
	}
	if now := beforeText(st, sp); now != "" {
		lines = append(lines, now)
	}
	if sp.ClearanceMM != nil {
		lines = append(lines, phrase.F("%s to %s at rest.", units.FormatMM(*sp.ClearanceMM), sp.NearestPart))
	}
	if sp.MarginMM != nil && sp.LeastMM != nil {
		lines = append(lines, phrase.F("Tightest rule: %s, %s more than the %s asked (%s).", sp.MarginPart,
			units.FormatMM(*sp.MarginMM), units.FormatMM(*sp.LeastMM), sp.MarginState))
	}
	if sp.ReachMM != nil {
		lines = append(lines, leadText(sp))
	}
	return lines
}

// leadText tells the lead of a place: its length, against the straight line,
// and the slack that it needs.
func leadText(sp *spot.Spot) string {
	line := phrase.F("Lead %.0f mm around what stands in between", *sp.ReachMM)
	if sp.StraightMM != nil {
		line += phrase.F(", %.0f mm straight", *sp.StraightMM)
	}
	if sp.SlackMM > 0 {
		line += phrase.F("; leave %.0f mm of slack, the two move against each other", sp.SlackMM)
	}
	return line + "."
}

// ChangesText tells what would open more places, a line each, most first; a
// change that opens none is left out, one that is only estimated has a badge.
func ChangesText(st *spot.Study) []string {
	if st == nil {
		return nil
	}
	var lines []string
	for _, c := range st.Changes {
		switch {
		case c.Opens == 0:
		case c.Estimate:
			lines = append(lines, "[estimate] "+phrase.Say(c.Sentence))
		default:
			lines = append(lines, phrase.Say(c.Sentence))
		}
	}
	return lines
}

// scoreText writes a score with two places and no negative zero. Bare numbers: a
// score.
func scoreText(score float64) string {
	return fmt.Sprintf("%.2f", math.Round(score*100)/100+0)
}
