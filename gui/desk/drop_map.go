package desk

import (
	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// MapTable lists the windows of every fore-aft shift of a map, with what stops
// the group at both ends.
func MapTable(m *drop.Map) Table {
	t := Table{
		Title:   phrase.Of("Drop against fore-aft shift"),
		Columns: []Column{number("shift_mm"), number("least_drop_mm"), number("most_drop_mm"), text(phrase.Of("stopped above by")), text(phrase.Of("stopped below by"))},
	}
	for _, c := range m.Columns {
		if len(c.WindowsMM) == 0 {
			t.Rows = append(t.Rows, Row{Cells: []string{units.NumberMM(c.ShiftMM), "", "", phrase.Of("holds at no drop"), ""}, Verdict: "short"})
		}
		for i, w := range c.WindowsMM {
			t.Rows = append(t.Rows, Row{
				Cells:   []string{units.NumberMM(c.ShiftMM), units.NumberMM(w[0]), units.NumberMM(w[1]), orEnd(phrase.Say(c.Low[i])), orEnd(phrase.Say(c.High[i]))},
				Verdict: "ok",
			})
		}
	}
	t.Foot = []string{phrase.Say(m.Sentence()), MapLegend(m)}
	return t
}

func orEnd(limit string) string {
	if limit == "" {
		return phrase.Of("end of the range")
	}
	return limit
}

// MapLegend says what the margin of a map means.
func MapLegend(m *drop.Map) string {
	return phrase.F("Margin: mm to the nearest limit, of clearance or height, of further drop for angles; %s and more are not told apart.", units.FormatMM(m.CapMM))
}

// MapCells lists every place of a map: what a spreadsheet wants.
func MapCells(m *drop.Map) Table {
	t := Table{
		Title:   phrase.Of("Drop against fore-aft shift"),
		Columns: []Column{number("shift_mm"), number("drop_mm"), number("margin_mm"), text(phrase.Of("holds")), text(phrase.Of("limit"))},
	}
	for i, shiftMM := range m.ShiftsMM {
		for k, dropMM := range m.DropsMM {
			holds, limit := "no", ""
			if mm := m.MarginMM[i][k]; mm != nil && *mm >= 0 {
				holds = "yes"
			}
			if n := m.Limit[i][k]; n >= 0 {
				limit = phrase.Say(m.Limits[n])
			}
			t.Rows = append(t.Rows, Row{Cells: []string{exact(&shiftMM), exact(&dropMM), exact(m.MarginMM[i][k]), holds, limit}})
		}
	}
	return t
}

// SwapTable sets the layout as it is and its exchanges side by side: a column
// for each, a row for each figure.
func SwapTable(swaps []drop.Swap) Table {
	t := Table{Title: phrase.Of("Exchanges"), Columns: []Column{text(phrase.Of("figure"))}}
	for _, s := range swaps {
		name := s.Name
		if s.Part != "" {
			name = s.Part + ": " + s.Name
		}
		t.Columns = append(t.Columns, text(name))
	}
	if len(swaps) == 0 {
		return t
	}
	row := func(what string, cell func(s *drop.Swap) string) {
		r := Row{Cells: []string{what}}
		told := false
		for i := range swaps {
			text := cell(&swaps[i])
			told = told || text != ""
			r.Cells = append(r.Cells, text)
		}
		if told {
			t.Rows = append(t.Rows, r)
		}
	}
	row(phrase.Of("can go down"), func(s *drop.Swap) string { return swapWindow(s) })
	row(phrase.Of("more than as it is"), func(s *drop.Swap) string { return swapGain(s, &swaps[0]) })
	row("then", func(s *drop.Swap) string {
		if s.Binding.High == nil {
			return phrase.Of("end of the range")
		}
		return phrase.Say(s.Binding.High.Event)
	})
	for _, att := range sortedKeys(swaps[0].GroundMM) {
		row(phrase.Of("height over ground, ")+att, func(s *drop.Swap) string { return units.FormatMM(s.GroundMM[att]) })
	}
	row(phrase.Of("lowest part"), func(s *drop.Swap) string { return s.LowPart })
	row(phrase.Of("crank height at the end"), func(s *drop.Swap) string { return formatOr(s.CrankMM) })
	row(phrase.Of("highest at the end"), func(s *drop.Swap) string { return formatOr(s.HighestMM) })
	row(phrase.Of("mass that goes down"), func(s *drop.Swap) string { return units.FormatKg(s.GroupKg) })
	row(phrase.Of("centre of gravity at the end"), func(s *drop.Swap) string {
		if s.CGMM == nil {
			return ""
		}
		return units.FormatMM(s.CGMM[2])
	})
	return t
}

func formatOr(mm *float64) string {
	if mm == nil {
		return ""
	}
	return units.FormatMM(*mm)
}

func swapWindow(s *drop.Swap) string {
	switch {
	case s.WindowMM != nil && len(s.WindowsMM) > 1:
		return windowsText(s.WindowsMM) + " mm"
	case s.WindowMM != nil:
		return windowsText([]drop.Window{*s.WindowMM}) + " mm"
	case s.ReachMM != nil:
		return windowsText([]drop.Window{*s.ReachMM}) + phrase.Of(" mm, some checks failing")
	}
	return phrase.Of("at no drop")
}

// swapGain says how much further an exchange lets the group go.
func swapGain(s, present *drop.Swap) string {
	most := func(s *drop.Swap) (mm float64, ok bool) {
		switch {
		case s.WindowMM != nil:
			return s.WindowMM[1], true
		case s.ReachMM != nil:
			return s.ReachMM[1], true
		}
		return 0, false
	}
	a, okA := most(s)
	b, okB := most(present)
	if s == present || !okA || !okB {
		return ""
	}
	text := units.FormatMM(a - b)
	if a > b {
		text = "+" + text
	}
	return text
}

// mapCaption tells what a drawn map shows, with its axes and its limits.
func mapCaption(m *drop.Map) string {
	text := phrase.F("Drop from %s above to %s below, shift from %s at the left to %s at the right. Green: all holds, the deeper the more room; hatched: a limit is passed; cross-hatched: parts overlap. Largest regions:",
		units.FormatMM(m.DropsMM[0]), units.FormatMM(m.DropsMM[len(m.DropsMM)-1]), asideText(m.ShiftsMM[0]), asideText(m.ShiftsMM[len(m.ShiftsMM)-1]))
	for i, r := range regionsOf(m) {
		if i == 4 {
			break
		}
		if i > 0 {
			text += ";"
		}
		text += phrase.F(" %s about %s down and %s", r.Limit, units.FormatMM(m.DropsMM[r.Col]), asideText(m.ShiftsMM[r.Row]))
	}
	return text + "."
}
