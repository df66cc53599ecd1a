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
