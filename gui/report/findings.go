package report

import (
	"fmt"
	"strings"
)

// findings prints the table of all findings.
func (b *book) findings() {
	if len(b.m.Findings) == 0 {
		return
	}
	b.chapter("All findings", "")
	b.paragraph(styleSmall, fmt.Sprintf("%d findings. Gaps in mm; points and directions in vehicle axes, mm. "+
		"Motion, heat and tolerance are what each takes from the static gap; margin = live gap − required. "+
		"RSS: the live gap with the root sum square of the tolerances instead of their sum.", len(b.m.Findings)))
	b.gap(1.5)
	number := func(head string) column { return column{head: head, align: right, widthMM: 13} }
	columns := []column{
		{head: "No.\nzone", widthMM: 16},
		{head: "Part A (rev), role\nPart B (rev), role", share: 1.7},
		{head: "State", widthMM: 14},
		number("Static gap mm"), number("Motion mm"), number("Heat mm"), number("Toler-\nance mm"),
		{head: "Live gap mm", align: right, widthMM: 17},
		number("Requi-\nred mm"), number("Margin mm"),
		{head: "Source of requirement", share: 1},
		{head: "Point A\nPoint B\nDirection", widthMM: 33},
		{head: "Verdict\npicture", widthMM: 19},
		{head: "Owner, due\ncomment, history", share: 0.9},
	}
	var rows [][]cell
	for i := range b.m.Findings {
		rows = append(rows, findingCells(&b.m.Findings[i]))
	}
	b.table(columns, rows)
}

// findingCells is one row of the findings table.
func findingCells(f *Finding) []cell {
	part := func(name, rev, role string) []span {
		return []span{
			{style: styleCellB, text: name},
			{style: styleCellM, text: joinNonEmpty(", ", prefixed("rev ", rev), role)},
		}
	}
	num := func(v *float64) cell { return text(shown(v, gapDecimals)) }
	return []cell{
		stacked(span{style: styleCellB, text: f.ID}, span{style: styleCellM, text: f.Zone}),
		stacked(append(part(f.PartA, f.RevA, f.RoleA), part(f.PartB, f.RevB, f.RoleB)...)...),
		text(f.State),
		num(f.StaticMM), num(f.MotionMM), num(f.HeatMM), num(f.ToleranceMM),
		stacked(span{style: styleCellB, text: gapText(f)}, span{style: styleCellM, text: rssCell(f)}),
		num(f.RequiredMM), strong(shown(f.MarginMM, gapDecimals)),
		stacked(span{style: styleCellM, text: f.Source}, span{style: styleCellB, text: badge(f.Habit)}),
		stacked(
			span{style: styleCellM, text: triple(f.PointAMM, placeDecimals)},
			span{style: styleCellM, text: triple(f.PointBMM, placeDecimals)},
			span{style: styleCellM, text: triple(f.Direction, wayDecimals)}),
		stacked(span{style: styleCellB, text: wordOr(f.Verdict), mark: f.Verdict},
			span{style: styleCellM, text: pictureID(f.Picture)}, span{style: styleCellM, text: pictureID(f.Section)}),
		stacked(span{style: styleCellB, text: joinNonEmpty(", ", f.Owner, f.Due)}, span{style: styleCellM, text: f.Decision},
			span{style: styleCell, text: f.Comment}, span{style: styleCellM, text: strings.Join(f.History, "\n")}),
	}
}

// rssCell is what the root sum square of the tolerances leaves, if they count.
func rssCell(f *Finding) string {
	if f.LiveRSSMM == nil {
		return ""
	}
	return "RSS " + shown(f.LiveRSSMM, gapDecimals)
}

// wordOr is the verdict's word, or the dash when nothing was judged.
func wordOr(v Verdict) string {
	if v == "" {
		return unknown
	}
	return string(v)
}
