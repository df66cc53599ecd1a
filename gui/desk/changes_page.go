package desk

import "fmt"

// ChangesPage compares the answer with the first one after opening, in a table
// and a sentence.
func ChangesPage(s *State) (t Table, sentence string) {
	if s.Opened == nil || s.Answers.Fit.Value == nil {
		return Table{}, "Nothing to compare yet."
	}
	c := Compare(s.Opened, s.Answers.Fit.Value)
	c.Table.Columns = []Column{text("change"), text("part"), text("to"), text("state"), number("before mm"), number("now mm"), text("verdict")}
	if c.New+c.Cured+c.Worse+c.Better == 0 {
		return c.Table, "No finding has changed since the layout was opened."
	}
	return c.Table, fmt.Sprintf("Since opening: %d new, %d cured, %d worse, %d better, %d the same.", c.New, c.Cured, c.Worse, c.Better, c.Same)
}
