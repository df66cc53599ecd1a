package desk

import (
	"aftbay/geom/clearance"
	"aftbay/geom/units"
)

// changeMM is the smallest change of a gap that counts: below it lies the
// certified search of the moving states.
const changeMM = 0.05

// Comparison counts what became of the findings between two answers.
type Comparison struct {
	New, Cured, Worse, Better, Same int
	Table                           Table
}

// Compare sets two answers against each other, finding by finding. New means
// that it fails now and did not; cured the other way round. Worse and better
// count only what fails or is close, before or now: the rest has room to spare.
func Compare(old, now *clearance.Result) Comparison {
	c := Comparison{Table: Table{
		Title:   "What changed?",
		Columns: []Column{text("change"), text("part a"), text("part b"), text("state"), number("before_mm"), number("now_mm"), text("verdict")},
	}}
	before := map[string]*clearance.Pair{}
	for i := range old.Pairs {
		before[old.Pairs[i].ID] = &old.Pairs[i]
	}
	for _, p := range Pressing(now) {
		b := before[p.ID]
		if b == nil || !pressing(p.Verdict) && !pressing(b.Verdict) {
			continue
		}
		if kind := c.kind(b, p); kind != "" {
			c.Table.Rows = append(c.Table.Rows, Row{
				Cells:   []string{kind, p.A, p.B, p.State, units.NumberMM(b.ClearanceMM), units.NumberMM(p.ClearanceMM), p.Verdict},
				Verdict: p.Verdict, Key: p.ID, Parts: []string{p.A, p.B},
			})
		}
	}
	return c
}

// pressing reports whether a verdict fails or nearly does.
func pressing(verdict string) bool {
	return clearance.Fails(verdict) || verdict == clearance.Close
}

func (c *Comparison) kind(before, now *clearance.Pair) string {
	bad, was := clearance.Fails(now.Verdict), clearance.Fails(before.Verdict)
	switch d := now.ClearanceMM - before.ClearanceMM; {
	case bad && !was:
		c.New++
		return "new"
	case was && !bad:
		c.Cured++
		return "cured"
	case d < -changeMM:
		c.Worse++
		return "worse"
	case d > changeMM:
		c.Better++
		return "better"
	}
	c.Same++
	return ""
}
