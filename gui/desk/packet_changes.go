package desk

import (
	"slices"

	"aftbay/geom/compare"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/gui/report"
	"aftbay/thermal/outcome"
)

// changes tells what changed since what the layout is compared with, if
// anything did: findings first, then parts and settings.
func (b *packer) changes(m *report.Model) error {
	r := b.s.Answers.Changes.Value
	if r == nil || r.Old == asOpened && r.Nothing() {
		return nil
	}
	out := &report.Changes{Sentence: phrase.Say(r.Sentence), Rest: capital(SameWords(r)), Others: OutcomeWords(b.s)}
	if o := &b.s.Answers.Outcomes; o.Value != nil && o.Fresh {
		for _, t := range OutcomeTables(o.Value) {
			out.Tables = append(out.Tables, figuresOf(trimmed(t)))
		}
	}
	for _, kind := range changeKinds(r) {
		for i := range kind.list {
			f := &kind.list[i]
			out.Rows = append(out.Rows, report.ChangeRow{
				Kind: kind.name, What: joinWords(f.A+" to "+f.B+", "+f.State, phrase.Say(f.Why)),
				Before: gapAnd(f.BeforeMM, f.Was), After: gapAnd(f.NowMM, f.Verdict), Verdict: verdictOf(f.Verdict),
			})
		}
	}
	for _, row := range ChangedParts(r).Rows {
		out.Parts = append(out.Parts, report.PartChange{Kind: row.Cells[0], Part: row.Cells[1], UpTo: row.Cells[2], How: row.Cells[3]})
	}
	for _, s := range r.Settings {
		out.Settings = append(out.Settings, report.ChangeRow{Kind: "setting", What: s.Where, Before: phrase.Say(s.Before), After: phrase.Say(s.After)})
	}
	m.Changes = out
	if len(r.Parts.Moved)+len(r.Parts.Reshaped)+len(r.Parts.Removed) == 0 {
		return nil
	}
	return b.changesPicture(out, r)
}

// changesPicture draws what moved, changed shape or is gone over where it was;
// the part that changed its shape most in the colours of how far it is off.
func (b *packer) changesPicture(out *report.Changes, r *compare.Result) error {
	a := &Attention{Page: Changed}
	if len(r.Parts.Reshaped) > 0 {
		a.Selected = []string{r.Parts.Reshaped[0].Name}
	}
	pic, image, err := b.whole(a)
	if err != nil {
		return err
	}
	out.Picture = b.keep("changes", image, capital(pic.Note))
	return nil
}

// trimmed leaves out what changed with room to spare where there is much of it:
// all stands in the answer of the command.
func trimmed(t Table) Table {
	const most = 24 // rows, besides those that are new, worse, cured or better
	spare, all := 0, len(t.Rows)
	t.Rows = slices.DeleteFunc(slices.Clone(t.Rows), func(r Row) bool {
		if slices.Contains([]string{outcome.New, outcome.Worse, outcome.Cured, outcome.Better}, r.Cells[0]) {
			return false
		}
		spare++
		return spare > most
	})
	if left := all - len(t.Rows); left > 0 {
		t.Foot = append(t.Foot, phrase.F("%d more changed with more room to spare; the command changes lists all.", left))
	}
	return t
}

// gapAnd says a gap and its verdict; what is not there is a dash.
func gapAnd(gapMM *float64, verdict string) string {
	if gapMM == nil {
		return "–"
	}
	return units.FormatMM(*gapMM) + ", " + verdict
}

func joinWords(first, second string) string {
	if second == "" {
		return first
	}
	return first + ": " + second
}

// openItems lists the decisions that are still open, with what became of their
// findings.
func (b *packer) openItems(m *report.Model) error {
	for _, item := range OpenItems(b.s) {
		row := report.OpenItem{Key: item.Finding, What: findingWords(item.Finding), Owner: item.Owner, Due: item.Due, Notes: item.Notes, History: HistoryLines(item.Decision), Now: item.Now, Verdict: verdictOf(item.Verdict)}
		m.OpenItems = append(m.OpenItems, row)
	}
	return nil
}
