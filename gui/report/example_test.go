package report_test

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"time"

	"aftbay/gui/report"
)

func ExampleWriteCSV() {
	gap, required, margin := 45.2, 50.0, -4.8
	m := &report.Model{
		Title: "Example", Date: time.Date(2027, 1, 15, 0, 0, 0, 0, time.UTC),
		Findings: []report.Finding{{
			ID: "F-001", PartA: "coil 5", PartB: "primary right 2", State: "moving",
			LiveMM: &gap, RequiredMM: &required, MarginMM: &margin, Verdict: report.Short,
		}},
	}
	var out strings.Builder
	if err := report.WriteCSV(&out, m); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	row := strings.Split(strings.Split(out.String(), "\r\n")[1], ",")
	fmt.Println(row[0], row[13], row[16], row[17])
	// Output: F-001 45.20 50.00 -4.80
}

func ExampleWritePDF() {
	m := &report.Model{Title: "Example", Date: time.Date(2027, 1, 15, 0, 0, 0, 0, time.UTC)}
	var first, second bytes.Buffer
	for _, out := range []*bytes.Buffer{&first, &second} {
		if err := report.WritePDF(out, m, report.PDFOptions{Paper: report.Letter}); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
	}
	fmt.Println(bytes.HasPrefix(first.Bytes(), []byte("%PDF-")), bytes.Equal(first.Bytes(), second.Bytes()))
	// Output: true true
}
