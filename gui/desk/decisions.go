package desk

import (
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// DecisionStates are what a review can settle, for a choice; the first means
// nothing yet. Read-only.
var DecisionStates = []string{"open", "accepted", "rejected", "closed"}

// DecisionOf returns what was settled about a finding, empty if nothing was.
func DecisionOf(doc *layout.Document, finding string) layout.Decision {
	if doc != nil {
		for _, d := range doc.Decisions {
			if d.Finding == finding {
				return d
			}
		}
	}
	return layout.Decision{Finding: finding}
}

// SameDecision reports whether two decisions settle the same about a finding;
// how they came about is left aside.
func SameDecision(a, b layout.Decision) bool {
	return a.Finding == b.Finding && a.Settled() == b.Settled()
}

// Decide settles a finding as an edit: state, owner, due day and notes. One that
// says nothing takes the decision back. The history gets the present day.
func (d *Desk) Decide(of layout.Decision) error {
	of, err := tidy(of)
	if err != nil {
		return err
	}
	return d.Edit(phrase.Of("decide on ")+findingWords(of.Finding), func(doc *layout.Document) error {
		settle(doc, of, d.today())
		return nil
	})
}

// TakeDecisions settles several findings as one edit of the present day.
func (d *Desk) TakeDecisions(list []layout.Decision) error {
	return d.Edit(phrase.F("take in %d decisions", len(list)), func(doc *layout.Document) error {
		SettleAll(doc, list, d.today())
		return nil
	})
}

// today is the day that a history gets.
func (d *Desk) today() string { return d.system.now().Format(time.DateOnly) }

// SettleAll puts decisions of a day into a document: each replaces the one about
// its finding and continues its history, the others stay.
func SettleAll(doc *layout.Document, list []layout.Decision, on string) {
	for _, of := range list {
		settle(doc, of, on)
	}
}

// settle puts one decision in. One that says nothing new leaves the history as
// it is; one that says nothing at all, with nothing before that day, goes.
func settle(doc *layout.Document, of layout.Decision, on string) {
	i := slices.IndexFunc(doc.Decisions, func(o layout.Decision) bool { return o.Finding == of.Finding })
	if i < 0 {
		if of.Settled() != (layout.Settled{}) {
			of.History = continued(nil, of.Settled(), on)
			doc.Decisions = append(doc.Decisions, of)
		}
		return
	}
	was := &doc.Decisions[i]
	if was.Settled() == of.Settled() {
		return
	}
	history := slices.Clone(was.History)
	if len(history) == 0 || stripped(history[len(history)-1]) != was.Settled() { // settled by hand in the file
		history = append(history, was.Settled())
	}
	of.History = continued(history, of.Settled(), on)
	if len(of.History) == 1 && of.Settled() == (layout.Settled{}) {
		doc.Decisions = slices.Delete(doc.Decisions, i, i+1)
		return
	}
	*was = of
}

// continued adds what was settled on a day. What was settled earlier on the same
// day is replaced: the day's end counts. Without a day each entry stays.
func continued(history []layout.Settled, is layout.Settled, on string) []layout.Settled {
	if last := len(history) - 1; last >= 0 && on != "" && history[last].Date == on {
		history = history[:last]
	}
	is.Date = on
	return append(history, is)
}

func stripped(h layout.Settled) layout.Settled {
	h.Date = ""
	return h
}

// HistoryLines say what was settled about a finding when, the oldest first.
func HistoryLines(of layout.Decision) []string {
	var out []string
	for _, h := range of.History {
		out = append(out, settledLine(h))
	}
	return out
}

// settledLine says an entry of the history in a line.
func settledLine(h layout.Settled) string {
	line := "undated"
	if h.Date != "" {
		line = h.Date
	}
	if stripped(h) == (layout.Settled{}) {
		return line + phrase.Of(": taken back")
	}
	return line + ": " + settledWords(h)
}

// settledWords says what was settled.
func settledWords(h layout.Settled) string {
	words := stateWord(h.State)
	if h.Owner != "" {
		words += ", " + h.Owner
	}
	if h.Due != "" {
		words += ", due " + h.Due
	}
	if h.Notes != "" {
		words += ". " + h.Notes
	}
	return words
}

// tidy takes the spaces off and checks what was typed.
func tidy(of layout.Decision) (layout.Decision, error) {
	of.State, of.Owner = strings.ToLower(strings.TrimSpace(of.State)), strings.TrimSpace(of.Owner)
	of.Due, of.Notes = strings.TrimSpace(of.Due), strings.TrimSpace(of.Notes)
	if of.State != "" && !slices.Contains(DecisionStates, of.State) {
		return of, say.Errorf("decision %q on %s: give one of %s", of.State, findingWords(of.Finding), strings.Join(DecisionStates, ", "))
	}
	if of.Due != "" {
		if _, err := time.Parse(time.DateOnly, of.Due); err != nil {
			return of, say.Errorf("due %q of %s: give a day such as 2027-01-31", of.Due, findingWords(of.Finding))
		}
	}
	return of, nil
}

// findingWords says a finding's id, "a ~ b @ state", to a reader.
func findingWords(id string) string {
	return strings.Replace(strings.Replace(id, " ~ ", " to ", 1), " @ ", ", ", 1)
}

// decisionColumns are the columns of a findings table that are read back.
// Read-only.
var decisionColumns = [...]string{"finding", "decision", "owner", "due", "comment"}

// ReadDecisions reads a findings table that was filled in, a CSV file or the
// sheet “Findings” of a workbook, as the packet writes it. Rows that say nothing
// are left out. A row that can't be understood is an error that names it.
func ReadDecisions(path string) ([]layout.Decision, error) {
	rows, err := tableRows(path)
	if err != nil {
		return nil, say.Errorf("%s: %w", path, err)
	}
	if len(rows) == 0 {
		return nil, say.Errorf("%s: is empty: give the findings table of a packet", path)
	}
	var at [len(decisionColumns)]int
	for i, name := range decisionColumns {
		if at[i] = slices.Index(rows[0], name); at[i] < 0 {
			return nil, say.Errorf("%s: has no column %q: keep the heads of the packet's findings table", path, name)
		}
	}
	var out []layout.Decision
	var faults []error
	for n, row := range rows[1:] {
		cell := func(i int) string {
			if at[i] < len(row) {
				return strings.TrimPrefix(row[at[i]], "'") // the guard against formulas
			}
			return ""
		}
		of, err := tidy(layout.Decision{Finding: cell(0), State: cell(1), Owner: cell(2), Due: cell(3), Notes: cell(4)})
		switch {
		case err != nil:
			faults = append(faults, say.Errorf("%s: row %d: %w", path, n+2, err))
		case of.Finding == "" && of.Settled() != layout.Settled{}:
			faults = append(faults, say.Errorf("%s: row %d: has a decision but no finding: leave the column %q as it was", path, n+2, decisionColumns[0]))
		case of.State+of.Owner+of.Due != "":
			out = append(out, of)
		}
	}
	return out, errors.Join(faults...)
}

// tableRows reads the cells of a table.
func tableRows(path string) ([][]string, error) {
	const mostBytes = 64 << 20 // a table of findings has a few
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if info.Size() > mostBytes {
		return nil, say.Errorf("is larger than %d MB: no findings table is", mostBytes>>20)
	}
	if strings.EqualFold(filepath.Ext(path), ".xlsx") {
		f, err := excelize.OpenFile(path, excelize.Options{UnzipSizeLimit: 4 * mostBytes, UnzipXMLSizeLimit: mostBytes})
		if err != nil {
			return nil, say.Errorf("can't be read as a workbook: %w", err)
		}
		rows, err := f.GetRows("Findings", excelize.Options{RawCellValue: true})
		return rows, errors.Join(err, f.Close())
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	text := strings.TrimPrefix(string(data), "\ufeff") // some programs begin with a mark
	in := csv.NewReader(strings.NewReader(text))
	in.FieldsPerRecord = -1
	if first, _, _ := strings.Cut(text, "\n"); strings.Count(first, ";") > strings.Count(first, ",") {
		in.Comma = ';' // where the comma is the decimal sign
	}
	return in.ReadAll()
}

// DecisionText says what was settled about a finding, "" for nothing.
func DecisionText(s *State, finding string) string {
	of := DecisionOf(s.Doc, finding)
	if of.Settled() == (layout.Settled{}) {
		return ""
	}
	return phrase.Of("Decision: ") + settledWords(of.Settled())
}

func stateWord(state string) string {
	if state == "" {
		return DecisionStates[0]
	}
	return state
}

// HasFinding reports whether there is a finding of an id.
func HasFinding(s *State, id string) bool { return findingOf(s, id) != nil }
