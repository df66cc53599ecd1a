package desk

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"aftbay/gui/phrase"
)

// Finder says which rows of a list are shown and in which order. The zero value
// shows all as they come.
type Finder struct {
	Search                     string // words that must all stand in a row, capitals aside
	Verdict, State, Role, Part string // "" any
	Question                   string
	By                         int // column to sort by, from 1; 0: as they come
	Down                       bool
}

// Narrows reports whether rows are left out.
func (f Finder) Narrows() bool {
	f.By, f.Down = 0, false
	f.Search = strings.TrimSpace(f.Search)
	return f != Finder{}
}

// Found returns the rows that a finder lets through, in its order. Rows that are
// equal in the sorted column keep theirs; empty cells come last.
func (t Table) Found(f Finder) Table {
	words := strings.Fields(strings.ToLower(f.Search))
	rows := t.Rows
	if f.Narrows() {
		rows = nil
		for i := range t.Rows {
			if t.Rows[i].passes(&f, words) {
				rows = append(rows, t.Rows[i])
			}
		}
	}
	if k := f.By - 1; k >= 0 && k < len(t.Columns) {
		rows = slices.Clone(rows)
		t.sort(rows, k, f.Down)
	}
	t.Rows = rows
	return t
}

func (r *Row) passes(f *Finder, words []string) bool {
	switch {
	case f.Verdict != "" && r.Verdict != f.Verdict, f.State != "" && r.State != f.State,
		f.Question != "" && r.Question != f.Question,
		f.Role != "" && !slices.Contains(r.Roles, f.Role), f.Part != "" && !slices.Contains(r.Parts, f.Part):
		return false
	}
	for _, word := range words {
		if !r.says(word) {
			return false
		}
	}
	return true
}

// says reports whether a word, in small letters, stands in a row.
func (r *Row) says(word string) bool {
	for _, texts := range [][]string{r.Cells, r.Roles, {r.Verdict}} {
		for _, text := range texts {
			if strings.Contains(strings.ToLower(text), word) {
				return true
			}
		}
	}
	return false
}

// sort orders rows by a column.
func (t Table) sort(rows []Row, k int, down bool) {
	numbers := t.Columns[k].Right
	slices.SortStableFunc(rows, func(a, b Row) int {
		x, y := a.Cells[k], b.Cells[k]
		if x == "" || y == "" {
			return cmp.Compare(btoi(x == ""), btoi(y == ""))
		}
		order := strings.Compare(strings.ToLower(x), strings.ToLower(y))
		if numbers {
			order = cmp.Compare(leadingNumber(x), leadingNumber(y))
		}
		if down {
			return -order
		}
		return order
	})
}

// leadingNumber reads the number that a cell begins with; what is none comes
// after all numbers. Bare numbers: in the unit of the column.
func leadingNumber(cell string) float64 {
	first, _, _ := strings.Cut(strings.Replace(cell, "−", "-", 1), " ")
	if v, err := strconv.ParseFloat(first, 64); err == nil {
		return v
	}
	return math.Inf(1)
}

// Choices are what the rows of a list can be narrowed to.
type Choices struct{ Verdicts, States, Roles, Parts, Questions []string }

// Choices gathers them: verdicts the gravest first, the others by name.
func (t Table) Choices() Choices {
	var c Choices
	sets := [5]map[string]bool{{}, {}, {}, {}, {}}
	for i := range t.Rows {
		r := &t.Rows[i]
		sets[0][r.Verdict], sets[1][r.State], sets[4][r.Question] = true, true, true
		for _, role := range r.Roles {
			sets[2][role] = true
		}
		for _, part := range r.Parts {
			sets[3][part] = true
		}
	}
	for k, to := range []*[]string{&c.Verdicts, &c.States, &c.Roles, &c.Parts, &c.Questions} {
		delete(sets[k], "")
		*to = sortedKeys(sets[k])
	}
	slices.SortStableFunc(c.Verdicts, func(a, b string) int { return cmp.Compare(gravity(a), gravity(b)) })
	return c
}

// FoundText says how many rows of how many are shown, "" if all are.
func FoundText(shown, all int, f Finder) string {
	switch {
	case !f.Narrows():
		return ""
	case shown == 0:
		return phrase.Of("none of ") + strconv.Itoa(all) + phrase.Of(" is like that")
	}
	return strconv.Itoa(shown) + " of " + strconv.Itoa(all)
}

// ConcernsPage lists what fails or is close, of every question.
func ConcernsPage(s *State) Table {
	t := Table{Columns: []Column{text(phrase.Of("what")), text(phrase.Of("question")), text(phrase.Of("state")), number(phrase.Of("is")), number(phrase.Of("asked")), number(phrase.Of("margin"))}}
	for _, c := range Concerns(s) {
		question := questionWords[c.Page]
		t.Rows = append(t.Rows, Row{
			Cells: []string{c.What, question, phrase.Word(c.State), c.Value, c.Asked, c.Margin}, Verdict: c.Verdict,
			Key: c.Key, Parts: c.Parts, Roles: c.Roles, State: c.State, Question: question,
		})
	}
	return t
}

// questionWords name the questions in a column. Read-only.
var questionWords = [6]string{"fit", "drop", phrase.Of("rear view"), "heat", "place", "change"}

// HeatList returns what the heat page lists of a case, and what it says if that
// is nothing.
func HeatList(s *State, k int) (t Table, empty string) {
	r := s.Answers.Heat.Value
	if r == nil || k >= len(r.Cases) {
		return Table{}, ""
	}
	t = HeatPage(r, k)
	for i := range t.Rows {
		row := &t.Rows[i]
		if at, ok := s.Scene.Index(row.Key); ok {
			row.Roles = []string{s.Scene.Parts[at].Role}
		}
	}
	return t, phrase.Of("No part takes part in this case: give one a temperature, a power or a limit.")
}

// LimitList returns the limits that the drop page lists, and what it says if
// there is none.
func LimitList(s *State) (t Table, empty string) {
	r := s.Answers.Drop.Value
	switch {
	case r == nil && s.Open && s.Doc.Drop == nil:
		return Table{}, phrase.Of("Give the layout a drop: a group and the range that it may go down.")
	case r == nil:
		return Table{}, ""
	}
	return DropPage(r, s.DropMM), phrase.Of("Nothing limits the drop: give rules, ground heights or half-shafts.")
}

// SightList is the table of SightPage for the window, which is narrow: what is
// seen and what is lost, of which a row has one, share a column.
func SightList(t Table) Table {
	const seen, lost = 1, 2
	columns := slices.Clone(t.Columns)
	columns[seen].Head = phrase.Of("of the road %")
	t.Columns = slices.Delete(columns, lost, lost+1)
	rows := slices.Clone(t.Rows)
	for i := range rows {
		cells := slices.Clone(rows[i].Cells)
		switch {
		case cells[seen] != "":
			cells[seen] += " seen"
		case cells[lost] != "":
			cells[seen] = cells[lost] + " lost"
		}
		rows[i].Cells = slices.Delete(cells, lost, lost+1)
	}
	t.Rows = rows
	return t
}
