package desk

import (
	"fmt"
	"sort"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// FitTable lists the findings, the most pressing first. With all false only
// those that miss or nearly miss their rule are listed.
func FitTable(r *clearance.Result, all bool) Table {
	t := Table{
		Title: phrase.Of("Does it fit?"),
		Columns: []Column{
			text(phrase.Of("verdict")), text(phrase.Of("part a")), text(phrase.Of("part b")), text(phrase.Of("state")), number("clearance_mm"), number("error_mm"), number("chord_error_mm"),
			number("least_mm"), number("margin_mm"), number("static_mm"), text(phrase.Of("point a")), text(phrase.Of("point b")), text(phrase.Of("source")),
		},
	}
	for _, p := range Pressing(r) {
		if !all && p.Verdict != clearance.Overlap && p.Verdict != clearance.Short && p.Verdict != clearance.Close {
			continue
		}
		t.Rows = append(t.Rows, Row{
			Cells: []string{
				p.Verdict, p.A, p.B, p.State, units.NumberMM(p.ClearanceMM), errorText(p.ErrorMM), optionalMM(p.ChordErrorMM),
				optionalMM(p.LeastMM), optionalMM(p.MarginMM), units.NumberMM(p.StaticMM),
				pointText(p.PointA), pointText(p.PointB), sourceText(p),
			},
			Verdict: p.Verdict, Key: p.ID, Parts: []string{p.A, p.B},
		})
	}
	n := r.Count()
	t.Foot = []string{FitSentence(r), phrase.F("%d overlap, %d short, %d close, %d ok, %d without a rule; %d pairs joined, not checked",
		n[clearance.Overlap], n[clearance.Short], n[clearance.Close], n[clearance.OK], n[clearance.NoRule], len(r.Unchecked))}
	return t
}

// Pressing returns the pairs, the most pressing first.
func Pressing(r *clearance.Result) []*clearance.Pair {
	pairs := make([]*clearance.Pair, len(r.Pairs))
	for i := range r.Pairs {
		pairs[i] = &r.Pairs[i]
	}
	sort.SliceStable(pairs, func(i, j int) bool { return clearance.Worse(pairs[i], pairs[j]) })
	return pairs
}

// FitSentence says in one line what fits least, and what can't be told.
func FitSentence(r *clearance.Result) string {
	return joinSentences(gapSentence(r), unknownSentence(r))
}

// unknownSentence says which part may lie inside another that lacks facets;
// empty where there is none.
func unknownSentence(r *clearance.Result) string {
	pairs := r.InsideUnknown()
	if len(pairs) == 0 {
		return ""
	}
	more := ""
	if n := len(pairs) - 1; n > 0 {
		more = phrase.F(" (and %d pairs more)", n)
	}
	return phrase.F("Not known whether %s and %s lie one inside the other%s: a mesh lacks facets.", pairs[0].A, pairs[0].B, more)
}

func joinSentences(a, b string) string {
	if b == "" {
		return a
	}
	return a + " " + b
}

// gapSentence says in one line which gap fits least.
func gapSentence(r *clearance.Result) string {
	n := r.Count()
	bad := n[clearance.Overlap] + n[clearance.Short]
	worst := r.Worst()
	if worst == nil {
		return phrase.Of("No pair has a rule: nothing is judged.")
	}
	if bad == 0 && len(r.InsideUnknown()) > 0 {
		return phrase.F("No gap is short. Nearest to its limit: %s.", pairSentence(worst))
	}
	if bad == 0 {
		return phrase.F("Everything fits. Nearest to its limit: %s.", pairSentence(worst))
	}
	return phrase.F("%d of %d ruled checks fail. Worst: %s.", bad, len(r.Pairs)-n[clearance.NoRule], pairSentence(worst))
}

// pairSentence tells one finding in words.
func pairSentence(p *clearance.Pair) string {
	if p.Overlap {
		return phrase.F("%s overlaps %s by %s (%s)", p.A, p.B, units.FormatMM(-p.ClearanceMM), p.State)
	}
	s := phrase.F("%s to %s %s (%s)", p.A, p.B, units.FormatMM(p.ClearanceMM), p.State)
	if p.LeastMM != nil {
		s += ", asked " + units.FormatMM(*p.LeastMM)
	}
	return s
}

func optionalMM(mm *float64) string {
	if mm == nil {
		return ""
	}
	return units.NumberMM(*mm)
}

func errorText(errorMM float64) string {
	if errorMM < 5e-7 {
		return "0"
	}
	return fmt.Sprintf("%.2g", errorMM)
}

// errorWords says an error bound in a sentence.
func errorWords(errorMM float64) string {
	if errorMM < 1e-6 {
		return phrase.Of("less than 0.000001 mm")
	}
	return errorText(errorMM) + " mm"
}

func pointText(p geom.Vec) string {
	return fmt.Sprintf("%.1f, %.1f, %.1f", p[0], p[1], p[2])
}

func sourceText(p *clearance.Pair) string {
	if !p.Rule.IsZero() && clearance.IsHabit(p.Source) {
		return phrase.Of("habit, no standard")
	}
	return p.Source
}
