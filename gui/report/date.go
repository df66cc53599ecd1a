package report

import "time"

// undated is stamped into the files of a report without a date, so that the
// same model still gives the same bytes.
var undated = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // Read-only.

// dateText prints the report's date, or that it has none.
func dateText(m *Model, layout string) string {
	if m.Date.IsZero() {
		return "undated"
	}
	return m.Date.Format(layout)
}
