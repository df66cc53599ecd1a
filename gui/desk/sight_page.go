package desk

import (
	"fmt"
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/rearview"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// SightPage lists, for the rule asked for, what is seen and what each stop and
// part takes; after them the findings of the keep-out solids. The sentences
// stand above the list, the notes, what it rests on, below.
func SightPage(s *State) (t Table, sentences, notes []string) {
	t = Table{Columns: []Column{text(phrase.Of("what")), number(phrase.Of("seen %")), number(phrase.Of("lost %")), number(phrase.Of("no loss to mm")), number(phrase.Of("allowed to mm")), number(phrase.Of("margin mm"))}}
	a := &s.Answers.Seen
	switch {
	case !s.Open:
		return t, []string{s.Status}, nil
	case a.Err != nil:
		sentences = append(sentences, phrase.Err(a.Err))
	case a.Value == nil:
		sentences = append(sentences, phrase.Of("Computing …"))
	case a.Value.Result == nil:
		sentences = append(sentences, phrase.Of("The layout has no rear_view: add eyes, mirror and glass to its file, and what the driver sees is worked out here."))
	default:
		r := a.Value.Result
		sentences, notes = append(sentences, phrase.Say(r.Required.Sentence)), SeenBasis(r)
		if !a.Fresh && !a.Rough {
			sentences = append(sentences, phrase.Of("Of an earlier state: computing."))
		}
		for i := range r.Rules {
			t.Rows = append(t.Rows, sightRows(&r.Rules[i])...)
		}
		t.Rows = append(t.Rows, aheadRows(r.Forward)...)
	}
	keep, said := keepOuts(s)
	t.Rows = append(t.Rows, keep...)
	return t, append(sentences, said...), notes
}

// sightRows are the rows of one rule: what either eye sees, who hides how much,
// then each eye by itself.
func sightRows(a *rearview.Answer) []Row {
	var out, eyes []Row
	for _, row := range seenRows(a) {
		single := row.Verdict == "" && row.Cells[2] != ""
		row.Cells = []string{row.Cells[1], row.Cells[2], row.Cells[3], row.Cells[6], row.Cells[7], row.Cells[8]}
		if single {
			eyes = append(eyes, row)
			continue
		}
		if len(out) == 0 {
			row.Cells[0] = a.Required.Rule // as either eye sees it
		}
		out = append(out, row)
	}
	return append(out, eyes...)
}

// aheadRows are the rows of the view ahead, none where it is not asked for.
func aheadRows(f *rearview.Forward) (out []Row) {
	if f == nil {
		return nil
	}
	out = append(out, Row{Cells: []string{phrase.Of("target ahead"), Percent(f.Seen.EitherShare), "", "", "", ""}, Verdict: metVerdict(f.Met)})
	for _, l := range f.LostBy {
		row := Row{Cells: []string{l.Part, "", Percent(l.Share), "", "", ""}, Key: "ahead " + l.Part, Parts: []string{l.Part}}
		if h, ok := f.Highest[l.Part]; ok {
			row.Cells[3], row.Cells[5] = optionalMM(h.NoLossMM), optionalMM(h.NoLossMarginMM)
		}
		out = append(out, row)
	}
	return out
}

// keepOuts lists what stands in or near the keep-out solids of the sight line,
// the most pressing first.
func keepOuts(s *State) (rows []Row, said []string) {
	r := s.Answers.Fit.Value
	if r == nil {
		return nil, nil
	}
	for _, p := range Pressing(r) {
		if p.RoleA != keepOut && p.RoleB != keepOut || p.Verdict == clearance.NoRule {
			continue
		}
		part := p.A
		if p.RoleA == keepOut {
			part = p.B
		}
		rows = append(rows, Row{
			Cells:   []string{"keep-out: " + part + ", " + p.State, "", "", "", "", units.NumberMM(p.ClearanceMM)},
			Verdict: p.Verdict, Key: p.ID, Parts: []string{p.A, p.B},
		})
	}
	if len(rows) > 0 {
		said = append(said, phrase.Of("Keep-out solid of the sight line: ")+strings.TrimPrefix(sightLine(r).answer, "keep-out: ")+".")
	} else if v := s.Answers.Seen.Value; v != nil && v.Result == nil {
		said = append(said, phrase.Of("No part has the role sightline: draw the region that must stay free as a solid, give it that role, and it is checked here."))
	}
	return rows, said
}

// SightMore says more, once it is worked out: the other rules, figures that
// belong to no part, variants, other drivers, the mirror.
func SightMore(s *State) (lines []string) {
	v := s.Answers.Seen.Value
	if v == nil || v.Result == nil || v.Result.Quick {
		return nil
	}
	r := v.Result
	lines = SeenWords(r)[1:] // the first is the sentence of the page
	list := func(name string, t Table, share int) {
		var parts []string
		for _, row := range t.Rows {
			parts = append(parts, fmt.Sprintf("%s %s %%", row.Cells[0], row.Cells[share]))
		}
		if len(parts) > 0 {
			lines = append(lines, name+": "+strings.Join(parts, ", ")+".")
		}
	}
	list(phrase.Of("Variants, seen by either eye"), VariantTable(r), 1)
	list(phrase.Of("Other drivers"), DriverTable(r), 4)
	list(phrase.Of("With the mirror moved and aimed anew"), MirrorTable(r), 1)
	if r.Drivers != nil {
		lines = append(lines, phrase.Say(r.Drivers.Source))
	}
	return append(lines, MirrorSentence(r))
}

// LookAtSight turns the attention to what a row speaks of: a finding of a
// keep-out solid, or a part.
func LookAtSight(a *Attention, row Row) {
	a.Finding = ""
	if len(row.Parts) == 1 {
		a.Select(row.Parts[0], false)
		return
	}
	a.Finding, a.Selected = row.Key, nil
}

// SightKey returns the key of the row that the attention is on.
func SightKey(a *Attention) string {
	if a.Finding != "" || len(a.Selected) == 0 {
		return a.Finding
	}
	return a.Selected[0]
}
