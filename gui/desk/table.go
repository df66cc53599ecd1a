package desk

import (
	"encoding/csv"
	"io"
	"strings"
	"unicode/utf8"

	"aftbay/geom/say"
	"aftbay/gui/report"
)

// Column is one column of a table.
type Column struct {
	Head  string
	Right bool // numbers stand flush right
}

// Row is one line of a table, ready to show.
type Row struct {
	Cells   []string
	Verdict string   // "" where nothing is judged
	Key     string   // what a click on the row means: finding id, part name ...
	Parts   []string // parts the row speaks of, for the scene

	// To narrow a list to; "" where a row has none.
	Roles    []string
	State    string
	Question string
}

// Table is rows under headings, with sentences before and after.
type Table struct {
	Title   string
	Columns []Column
	Rows    []Row
	Foot    []string
}

// text and number make columns.
func text(head string) Column   { return Column{Head: head} }
func number(head string) Column { return Column{Head: head, Right: true} }

// WriteText writes the table in columns for a terminal.
func (t Table) WriteText(w io.Writer) error {
	widths := make([]int, len(t.Columns))
	for k, c := range t.Columns {
		widths[k] = utf8.RuneCountInString(c.Head)
	}
	for _, r := range t.Rows {
		for k, cell := range r.Cells {
			widths[k] = max(widths[k], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	if t.Title != "" {
		b.WriteString(t.Title + "\n")
	}
	heads := make([]string, len(t.Columns))
	for k, c := range t.Columns {
		heads[k] = c.Head
	}
	if len(t.Rows) > 0 {
		t.writeLine(&b, widths, heads)
	}
	for _, r := range t.Rows {
		t.writeLine(&b, widths, r.Cells)
	}
	for _, f := range t.Foot {
		b.WriteString(f + "\n")
	}
	_, err := io.WriteString(w, b.String()+"\n")
	return err
}

func (t Table) writeLine(b *strings.Builder, widths []int, cells []string) {
	var line strings.Builder
	for k, cell := range cells {
		pad := strings.Repeat(" ", widths[k]-utf8.RuneCountInString(cell))
		if t.Columns[k].Right {
			line.WriteString(pad + cell)
		} else {
			line.WriteString(cell + pad)
		}
		line.WriteString("  ")
	}
	b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
}

// WriteCSV writes headings and rows after RFC 4180; texts that a spreadsheet
// would take for a formula are neutralised, numbers stay numbers.
func (t Table) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	var heads []string
	for _, c := range t.Columns {
		heads = append(heads, c.Head)
	}
	if err := out.Write(heads); err != nil {
		return say.Errorf("table: %w", err)
	}
	for _, r := range t.Rows {
		cells := make([]string, len(r.Cells))
		for k, cell := range r.Cells {
			if t.Columns[k].Right {
				cell = strings.Replace(cell, "−", "-", 1)
			}
			cells[k] = report.SafeCell(cell)
		}
		if err := out.Write(cells); err != nil {
			return say.Errorf("table: %w", err)
		}
	}
	out.Flush()
	return out.Error()
}
