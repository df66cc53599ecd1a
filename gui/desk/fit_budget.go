package desk

import (
	"math"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Budget is how the static gap of a finding is used up in its state: static −
// motion − growth − tolerance = left. The page and the packet both print it. Nil
// is what the state knows nothing of; a take below zero widens the gap.
type Budget struct {
	StaticMM             float64
	MotionMM             *float64
	GrowthMM             *float64
	ToleranceMM          *float64 // the worst case: plain sum of both parts
	LeftMM               float64
	RequiredMM, MarginMM *float64

	// The same with the root sum square of the tolerances.
	ToleranceRSSMM, LeftRSSMM, MarginRSSMM *float64
}

// roundingMM is below what a sum of gaps is rounded by: such a rest is none.
const roundingMM = 1e-9

// BudgetOf splits what the state of a finding takes off its static gap. Motion
// is what neither growth nor tolerance takes.
func BudgetOf(p *clearance.Pair) Budget {
	b := Budget{StaticMM: p.StaticMM, LeftMM: p.ClearanceMM, RequiredMM: p.LeastMM, MarginMM: p.MarginMM}
	switch p.State {
	case layout.StateHot:
		b.GrowthMM = ptr(p.GrowthMM)
	case layout.StateMoving:
		b.MotionMM = ptr(restMM(p.StaticMM - p.ClearanceMM))
	case layout.StateAll:
		b.GrowthMM, b.ToleranceMM = ptr(p.GrowthMM), ptr(p.ToleranceMM)
		b.MotionMM = ptr(restMM(p.StaticMM - p.ClearanceMM - p.GrowthMM - p.ToleranceMM))
	}
	if p.ClearanceRSSMM == nil {
		return b
	}
	b.LeftRSSMM = p.ClearanceRSSMM
	b.ToleranceRSSMM = ptr(restMM(p.ToleranceMM - (*p.ClearanceRSSMM - p.ClearanceMM)))
	if p.LeastMM != nil {
		b.MarginRSSMM = ptr(*p.ClearanceRSSMM - *p.LeastMM)
	}
	return b
}

func restMM(mm float64) float64 {
	if math.Abs(mm) < roundingMM {
		return 0
	}
	return mm
}

// BudgetTable is the budget of a finding in one row, empty if there is no such
// finding.
func BudgetTable(s *State, id string) Table {
	p := findingOf(s, id)
	if p == nil {
		return Table{}
	}
	b := BudgetOf(p)
	t := Table{Rows: []Row{{Verdict: p.Verdict, Key: p.ID, Parts: []string{p.A, p.B}}}}
	for _, c := range []struct {
		head string
		mm   *float64
	}{
		{"static", &b.StaticMM},
		{"− motion", b.MotionMM},
		{"− growth", b.GrowthMM},
		{"− tolerance", b.ToleranceMM},
		{"= left", &b.LeftMM},
		{"required", b.RequiredMM},
		{"margin", b.MarginMM},
	} {
		if c.mm != nil {
			t.Columns = append(t.Columns, number(c.head))
			t.Rows[0].Cells = append(t.Rows[0].Cells, units.NumberMM(*c.mm))
		}
	}
	return t
}

// rssText says what is left with the root sum square of the tolerances, nothing
// in states without tolerances.
func rssText(p *clearance.Pair) string {
	b := BudgetOf(p)
	if b.LeftRSSMM == nil {
		return ""
	}
	s := phrase.Of("With root-sum-square tolerance: ") + units.FormatMM(*b.LeftRSSMM)
	if b.MarginRSSMM != nil {
		s += ", margin " + units.FormatMM(*b.MarginRSSMM)
	}
	return s + phrase.Of(". The verdict is for the worst case.")
}

// chordSaidMM is the least chord error worth a sentence: gaps are shown to this.
const chordSaidMM = 0.01

// chordText says how far the facets may lie off the true surfaces at a finding,
// nothing where that is too little to show.
func chordText(p *clearance.Pair) string {
	if p.ChordErrorMM == nil || *p.ChordErrorMM <= chordSaidMM {
		return ""
	}
	return phrase.Of("faceted surfaces: off by up to ") + units.FormatMM(*p.ChordErrorMM) + phrase.Of(" here (estimate)")
}
