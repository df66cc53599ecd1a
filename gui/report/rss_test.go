package report

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"
)

// TestRootSumSquareBesideWorstCase: the page of a finding and the table of all
// show what the root sum square leaves where it is known; where it is not, no
// word of it. The chord error is told as an estimate.
func TestRootSumSquareBesideWorstCase(t *testing.T) {
	for _, c := range []struct {
		name         string
		rss, chord   *float64
		says, silent []string
	}{
		{"all together", ptr(3.859), ptr(0.3716), []string{"Withroot-sum-squaretolerance:3.86mm.", "RSS3.86", "upto0.37mm,anestimate"}, nil},
		{"overlap", ptr(-1.204), ptr(0), []string{"Withroot-sum-squaretolerance:−1.20mm.", "RSS−1.20", "Faceterror0mm"}, nil},
		{"static", nil, nil, nil, []string{"Withroot-sum-square", "RSS3", "RSS−", "Faceterror"}},
	} {
		f := sampleFinding(24)
		f.Verdict, f.LiveRSSMM, f.ChordErrorMM, f.Picture, f.Section = Short, c.rss, c.chord, nil, nil
		var table bytes.Buffer
		if err := WriteCSV(&table, &Model{Title: "Gap", Findings: []Finding{f}}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&table).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for head, mm := range map[string]*float64{"live_gap_rss_mm": c.rss, "chord_error_mm": c.chord} {
			if got := rows[1][slices.Index(rows[0], head)]; got != number(mm, gapDecimals) {
				t.Errorf("%s: %s is %q in the table file", c.name, head, got)
			}
		}
		text := squeezed(textOf(t, writePaper(t, &Model{Title: "Gap", Findings: []Finding{f}}, PDFOptions{})))
		for _, want := range c.says {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q", c.name, want)
			}
		}
		for _, no := range c.silent {
			if strings.Contains(text, no) {
				t.Errorf("%s: says %q", c.name, no)
			}
		}
	}
}
