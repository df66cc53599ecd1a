package desk

import (
	"math"

	"aftbay/geom/compare"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// ChangesTables sets out what changed: findings, then parts, then settings.
func ChangesTables(r *compare.Result) []Table {
	tables := []Table{ChangedFindings(r), ChangedParts(r)}
	if len(r.Settings) > 0 {
		t := Table{Title: phrase.Of("Settings"), Columns: []Column{text(phrase.Of("where")), text(phrase.Of("before")), text(phrase.Of("after"))}}
		for _, s := range r.Settings {
			t.Rows = append(t.Rows, Row{Cells: []string{s.Where, phrase.Say(s.Before), phrase.Say(s.After)}})
		}
		tables = append(tables, t)
	}
	last := &tables[len(tables)-1]
	last.Foot = append(last.Foot, phrase.Say(r.Sentence), SameWords(r))
	return tables
}

// SameWords says of the findings that are not listed what became of them.
func SameWords(r *compare.Result) string {
	f := &r.Findings
	s := phrase.F("%d findings within %s of before, %d changed with room to spare", f.Same, units.FormatMM(f.ThresholdMM), f.Spare)
	if f.Gone+f.Came > 0 {
		s += phrase.F(", %d gone and %d new that pass", f.Gone, f.Came)
	}
	switch {
	case f.Unchanged == 0:
		return s + "."
	case f.Identical == f.Unchanged:
		return s + phrase.F("; all %d pairs of which nothing differs are identical to the last digit.", f.Unchanged)
	}
	return s + phrase.F("; of %d pairs of which nothing differs %d are NOT identical, first %s.", f.Unchanged, len(f.Drifted), f.Drifted[0])
}

// ChangedFindings lists the findings that changed, the gravest kind first.
func ChangedFindings(r *compare.Result) Table {
	t := Table{Title: phrase.Of("Findings"), Columns: []Column{
		text(phrase.Of("change")), text(phrase.Of("part a")), text(phrase.Of("part b")), text(phrase.Of("state")), number("before_mm"), number("now_mm"), number("margin_by_mm"),
		text(phrase.Of("before")), text(phrase.Of("now")), text(phrase.Of("why")),
	}}
	for _, kind := range changeKinds(r) {
		for i := range kind.list {
			f := &kind.list[i]
			by := optionalMM(f.ByMM)
			if f.ByMM != nil && *f.ByMM > 0 {
				by = "+" + by
			}
			t.Rows = append(t.Rows, Row{
				Cells:   []string{kind.name, f.A, f.B, f.State, optionalMM(f.BeforeMM), optionalMM(f.NowMM), by, f.Was, f.Verdict, phrase.Say(f.Why)},
				Verdict: f.Verdict, Key: f.ID, Parts: []string{f.A, f.B},
			})
		}
	}
	return t
}

// changeKind is one kind of change with its findings.
type changeKind struct {
	name string
	list []compare.Finding
}

func changeKinds(r *compare.Result) []changeKind {
	f := &r.Findings
	return []changeKind{{"new", f.New}, {"worse", f.Worse}, {"cured", f.Cured}, {"better", f.Better}}
}

// ChangedParts lists the parts that changed, with how far.
func ChangedParts(r *compare.Result) Table {
	t := Table{Title: phrase.Of("Parts"), Columns: []Column{text(phrase.Of("change")), text(phrase.Of("part")), number("up_to_mm"), text(phrase.Of("how"))}}
	add := func(kind, name, upTo, how string) {
		t.Rows = append(t.Rows, Row{Cells: []string{kind, name, upTo, how}, Key: name, Parts: []string{name}})
	}
	for _, p := range r.Parts.Added {
		add("added", p.Name, "", p.Role)
	}
	for _, p := range r.Parts.Removed {
		add("removed", p.Name, "", p.Role)
	}
	for i := range r.Parts.Moved {
		m := &r.Parts.Moved[i]
		add("moved", m.Name, units.NumberMM(m.MostMM), moveWords(m))
	}
	for i := range r.Parts.Reshaped {
		s := &r.Parts.Reshaped[i]
		add("reshaped", s.Name, units.NumberMM(s.DeviationMM), shapeWords(s))
	}
	for _, name := range r.Parts.Rewritten {
		add("rewritten", name, "0", phrase.Of("another file with the same surface"))
	}
	return t
}

func moveWords(m *compare.Move) string {
	s := phrase.F("x %s, y %s, z %s mm", units.NumberMM(m.ShiftMM[0]), units.NumberMM(m.ShiftMM[1]), units.NumberMM(m.ShiftMM[2]))
	const still = 1e-6 // degrees: rounding of the pose
	if m.TurnDeg > still {
		s += ", turned " + units.FormatDeg(m.TurnDeg)
	}
	if m.InFile {
		s += phrase.Of(", within its file")
	}
	return s
}

func shapeWords(s *compare.Reshape) string {
	words := phrase.F("new surface %s off the old, old %s off the new; true to %s", units.FormatMM(s.Grown.MM), units.FormatMM(s.Shrunk.MM), errorWords(s.ErrorMM))
	const shownMM3 = 50 // half of the last digit, 0.1 cm³
	if v := s.VolumeMM3; v != nil && math.Abs(*v) >= shownMM3 {
		more := "more"
		if *v < 0 {
			more = "less"
		}
		words += phrase.F("; %s %s volume", units.FormatCM3(math.Abs(*v)), more)
	}
	return words
}
