package desk

import (
	"slices"
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// OpenItem is a decision that is still open, with what became of its finding.
type OpenItem struct {
	layout.Decision
	Pair    *clearance.Pair // nil: it speaks of another question, or is no finding any more
	Now     string          // what its own answer says today, with the unit
	Verdict string          // "" where there is none
}

// OpenItems lists the open decisions: those due first at the front, those
// without a day at the end.
func OpenItems(s *State) []OpenItem {
	if s.Doc == nil {
		return nil
	}
	var out []OpenItem
	for _, of := range s.Doc.Decisions {
		if stateWord(of.State) == DecisionStates[0] && of.Settled() != (layout.Settled{}) {
			now, verdict := nowOf(s, of.Finding)
			out = append(out, OpenItem{of, findingOf(s, of.Finding), now, verdict})
		}
	}
	slices.SortStableFunc(out, func(a, b OpenItem) int {
		switch {
		case a.Due == b.Due:
			return 0
		case a.Due == "":
			return 1
		case b.Due == "":
			return -1
		}
		return strings.Compare(a.Due, b.Due)
	})
	return out
}

// OpenTable lists the open items with their figures of today.
func OpenTable(s *State) Table {
	t := Table{Title: phrase.Of("Open items"), Columns: []Column{text(phrase.Of("due")), text(phrase.Of("owner")), text(phrase.Of("finding")), number("clearance_mm"), text(phrase.Of("verdict")), text(phrase.Of("today")), text(phrase.Of("notes"))}}
	for _, o := range OpenItems(s) {
		row := Row{Cells: []string{o.Due, o.Owner, o.Finding, "", o.Verdict, o.Now, o.Notes}, Verdict: o.Verdict, Key: o.Finding}
		if o.Pair != nil {
			row.Cells[3] = units.NumberMM(o.Pair.ClearanceMM)
		}
		t.Rows = append(t.Rows, row)
	}
	t.Foot = []string{phrase.F("%d open of %d decisions", len(t.Rows), len(s.Doc.Decisions))}
	return t
}

// What is said of a decision whose finding has no figure today. Read-only.
var (
	nowNotLooked = phrase.Of("not looked at here")
	nowKeeps     = phrase.Of("no longer among what fails or is close")
	nowGone      = phrase.Of("no such finding any more")
)

// nowOf says what the answer of a decision's own question tells of it today.
// Only a pair can be gone: where a question was not asked, that is said.
func nowOf(s *State, key string) (now, verdict string) {
	if c, ok := ConcernOf(s, key); ok {
		now = c.Value
		if c.Asked != "" {
			now += ", asked " + c.Asked
		}
		return now, c.Verdict
	}
	a := &s.Answers
	answered, missing := a.Fit.Value != nil, nowGone
	switch kind, _, _ := strings.Cut(key, ": "); kind {
	case "drop":
		answered, missing = a.Drop.Value != nil, nowKeeps
	case "rear view":
		answered, missing = a.Seen.Value != nil && a.Seen.Value.Result != nil, nowKeeps
	case "place":
		answered, missing = a.Spots.Value != nil, nowKeeps
	case "heat":
		answered = a.Heat.Value != nil
	}
	if !answered {
		return nowNotLooked, ""
	}
	return missing, ""
}
