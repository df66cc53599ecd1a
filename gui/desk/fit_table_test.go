package desk

import (
	"testing"

	"aftbay/geom/clearance"
)

// The table that is printed tells the chord error beside the error, blank where
// there is no rule and so none was worked out.
func TestFitTableTellsTheChordError(t *testing.T) {
	chordMM, leastMM := 0.25, 10.0
	r := &clearance.Result{Pairs: []clearance.Pair{
		{ID: "x", A: "pipe", B: "wall", State: "static", ClearanceMM: 8, ErrorMM: 0.01, ChordErrorMM: &chordMM, LeastMM: &leastMM, Verdict: clearance.Short},
		{ID: "y", A: "pipe", B: "lid", State: "static", ClearanceMM: 9, Verdict: clearance.NoRule},
	}}
	table := FitTable(r, true)
	for k, c := range table.Columns {
		if c.Head != "chord_error_mm" {
			continue
		}
		if table.Columns[k-1].Head != "error_mm" || table.Rows[0].Cells[k] != "0.25" || table.Rows[1].Cells[k] != "" {
			t.Errorf("column %d: %q and %q", k, table.Rows[0].Cells[k], table.Rows[1].Cells[k])
		}
		return
	}
	t.Errorf("no such column: %v", table.Columns)
}

// Where a part may lie inside another that lacks facets, no line says that
// everything fits.
func TestNothingFitsWhereTheInsideIsUnknown(t *testing.T) {
	leastMM, marginMM := 10.0, 30.0
	p := clearance.Pair{A: "pump", B: "tank", State: "static", ClearanceMM: 40, LeastMM: &leastMM, MarginMM: &marginMM, Verdict: clearance.OK}
	sound := &clearance.Result{Pairs: []clearance.Pair{p}}
	p.InsideUnknown = true
	holed := &clearance.Result{Pairs: []clearance.Pair{p}}
	for _, c := range []struct{ got, want string }{
		{FitSentence(sound), "Everything fits. Nearest to its limit: pump to tank 40.00 mm (static), asked 10.00 mm."},
		{FitSentence(holed), "No gap is short. Nearest to its limit: pump to tank 40.00 mm (static), asked 10.00 mm. Not known whether pump and tank lie one inside the other: a mesh lacks facets."},
		{fitLine(sound).answer, "all fit; nearest pump to tank 40.00 mm (static), asked 10.00 mm"},
		{fitLine(holed).answer, "1 inside unknown; nearest pump to tank 40.00 mm (static), asked 10.00 mm"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
