package report

import (
	"slices"
	"strconv"
	"strings"
)

// findingsSheet holds every finding with the columns of the table file.
func findingsSheet(m *Model) sheet {
	s := sheet{name: "Findings", heads: findingHeads[:], wide: []int{7, 20, 22, 7, 22, 7, 12, 12, 13, 11}}
	for _, list := range [][]Finding{m.Findings, m.Rest} {
		for i := range list {
			s.rows = append(s.rows, findingFields(&list[i]))
		}
	}
	return s
}

// findingFields is one finding in the order of findingHeads: the texts of the
// table file, with figures as numbers.
func findingFields(f *Finding) []field {
	row := make([]field, 0, len(findingHeads))
	for _, text := range findingTexts(f) {
		row = append(row, wording(text))
	}
	put := func(head string, f field) { row[slices.Index(findingHeads[:], head)] = f }
	put("static_gap_mm", figure(f.StaticMM, gapDecimals))
	put("motion_mm", figure(f.MotionMM, gapDecimals))
	put("heat_mm", figure(f.HeatMM, gapDecimals))
	put("tolerance_mm", figure(f.ToleranceMM, gapDecimals))
	put("live_gap_mm", figure(f.LiveMM, gapDecimals))
	put("error_mm", figure(f.ErrorMM, maxDecimals))
	put("required_mm", figure(f.RequiredMM, gapDecimals))
	put("margin_mm", figure(f.MarginMM, gapDecimals))
	put("overlap_volume_mm3", figure(f.VolumeMM3, 0))
	put("live_gap_rss_mm", figure(f.LiveRSSMM, gapDecimals))
	put("chord_error_mm", figure(f.ChordErrorMM, gapDecimals))
	for k, axis := range []string{"x", "y", "z"} {
		if p := f.PointAMM; p != nil {
			put("point_a_"+axis+"_mm", coordinate(p[k], placeDecimals))
		}
		if p := f.PointBMM; p != nil {
			put("point_b_"+axis+"_mm", coordinate(p[k], placeDecimals))
		}
		if p := f.Direction; p != nil {
			put("direction_"+axis, coordinate(p[k], wayDecimals))
		}
		if p := f.MoveOutMM; p != nil {
			put("move_out_"+axis+"_mm", coordinate(p[k], gapDecimals))
		}
	}
	put("verdict", verdictField(f.Verdict))
	put("picture", pictureField(f.Picture))
	put("section", pictureField(f.Section))
	return row
}

// issuesSheet lists what fails, nearly does or has been decided on: who does
// what by when.
func issuesSheet(m *Model) sheet {
	s := sheet{
		name:  "Issues",
		heads: []string{"no", "finding", "title", "category", "severity", "state", "live_gap_mm", "required_mm", "revision", "owner", "action", "due", "decision", "picture", "history"},
		wide:  []int{7, 34, 34, 11, 11, 13, 12, 12, 10, 16, 34, 12, 12, 18, 40},
	}
	for _, list := range [][]Finding{m.Findings, m.Rest} {
		for i := range list {
			f := &list[i]
			if !f.Verdict.Fails() && f.Decision == "" {
				continue
			}
			s.rows = append(s.rows, []field{
				wording(f.ID), wording(f.Key), wording(f.Title()), wording("gap"), verdictField(f.Verdict), wording(f.State),
				figure(f.LiveMM, gapDecimals), figure(f.RequiredMM, gapDecimals), wording(m.Revision),
				wording(f.Owner), wording(f.Comment), wording(f.Due), wording(f.Decision), pictureField(f.Picture), wording(strings.Join(f.History, historyMark)),
			})
		}
	}
	return s
}

// budgetSheet shows how the static gap of each finding is used up.
func budgetSheet(m *Model) sheet {
	s := sheet{
		name:  "Gap budgets",
		heads: []string{"no", "part_a", "part_b", "state", "static_gap_mm", "motion_mm", "heat_mm", "tolerance_mm", "live_gap_mm", "required_mm", "margin_mm", "verdict"},
		wide:  []int{7, 24, 24, 14, 13},
	}
	for i := range m.Findings {
		f := &m.Findings[i]
		row := []field{wording(f.ID), wording(f.PartA), wording(f.PartB), wording(f.State)}
		for _, v := range []*float64{f.StaticMM, f.MotionMM, f.HeatMM, f.ToleranceMM, f.LiveMM, f.RequiredMM, f.MarginMM} {
			row = append(row, figure(v, gapDecimals))
		}
		s.rows = append(s.rows, append(row, verdictField(f.Verdict)))
	}
	return s
}

// heatSheet lists the temperatures with their bands.
func heatSheet(m *Model) sheet {
	s := sheet{
		name:  "Temperatures",
		heads: []string{"case", "part", "role", "low_degC", "nominal_degC", "high_degC", "limit_degC", "high_margin_K", "nominal_margin_K", "verdict", "limit_source", "what_this_is"},
		wide:  []int{16, 24, 14, 10, 13, 10, 10, 14, 17, 10, 40, 50},
	}
	for i := range m.Heat.Cases {
		c := &m.Heat.Cases[i]
		for k := range c.Rows {
			r := &c.Rows[k]
			s.rows = append(s.rows, []field{
				wording(c.Name), wording(r.Part), wording(r.Role), figure(&r.LowDegC, tempDecimals), figure(&r.NominalDegC, tempDecimals), figure(&r.HighDegC, tempDecimals),
				figure(r.LimitDegC, tempDecimals), figure(r.HighMarginK, tempDecimals), figure(r.MarginK, tempDecimals), verdictField(r.Verdict), wording(joinNonEmpty(", ", r.LimitSource, badge(r.Habit))), wording(heatHead),
			})
		}
	}
	return s
}

// changesSheet lists what changed.
func changesSheet(m *Model) sheet {
	s := sheet{name: "Changes", heads: []string{"change", "what", "before", "after", "verdict_now"}, wide: []int{12, 50, 30, 30, 12}}
	for _, r := range m.Changes.Rows {
		s.rows = append(s.rows, []field{wording(r.Kind), wording(r.What), wording(r.Before), wording(r.After), verdictField(r.Verdict)})
	}
	for _, words := range m.Changes.Others {
		s.rows = append(s.rows, []field{wording("answer"), wording(words), wording(""), wording(""), wording("")})
	}
	for _, p := range m.Changes.Parts {
		after := p.How
		if p.UpTo != "" {
			after = "up to " + p.UpTo + " mm: " + after
		}
		s.rows = append(s.rows, []field{wording(p.Kind), wording(p.Part), wording(""), wording(after), wording("")})
	}
	for _, r := range m.Changes.Settings {
		s.rows = append(s.rows, []field{wording(r.Kind), wording(r.What), wording(r.Before), wording(r.After), wording("")})
	}
	return s
}

// changedSheets hold what became of drop, rear view and heat, a sheet a table.
func changedSheets(m *Model) []sheet {
	var out []sheet
	for i := range m.Changes.Tables {
		f := &m.Changes.Tables[i]
		s := sheet{name: "Changed " + strings.ToLower(strings.FieldsFunc(f.Title, func(r rune) bool { return r == ':' || r == ',' })[0]), wide: []int{18, 34, 26}}
		for _, h := range f.Heads {
			s.heads = append(s.heads, h.Text)
		}
		for _, row := range f.Rows {
			fields := make([]field, len(f.Heads))
			for k := range fields {
				if k < len(row) {
					fields[k] = figureOf(row[k], f.Heads[k].Number)
				}
			}
			s.rows = append(s.rows, fields)
		}
		out = append(out, s)
	}
	return out
}

// figureOf is a printed number as a number, or whatever else as text.
func figureOf(text string, isNumber bool) field {
	text = strings.TrimPrefix(text, "+")
	_, err := strconv.ParseFloat(text, 64)
	if !isNumber || err != nil {
		return wording(text)
	}
	_, decimals, _ := strings.Cut(text, ".")
	style := map[int]int{0: xsWhole, 1: xsOne, 2: xsTwo, 3: xsThree, 6: xsSix}[len(decimals)]
	return field{text: text, number: true, style: style}
}

// aboutSheet says what the workbook is of.
func aboutSheet(m *Model) sheet {
	s := sheet{name: "About", heads: []string{"what", "value"}, wide: []int{40, 90}}
	add := func(what, value string) {
		if value != "" {
			s.rows = append(s.rows, []field{wording(what), wording(value)})
		}
	}
	add("title", m.Title)
	add("variant", m.Variant)
	add("revision", m.Revision)
	add("author", m.Author)
	add("date", dateText(m, "2006-01-02"))
	add("program", m.Program)
	add("axes", m.Axes)
	add("units", m.Units)
	for _, t := range m.Tiles {
		add(t.Question, joinNonEmpty(": ", string(t.Verdict), t.Answer))
	}
	for _, in := range m.Inputs {
		add("SHA-256 of "+in.Path, in.SHA256)
	}
	return s
}
