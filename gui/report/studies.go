package report

import (
	"fmt"
	"strings"
)

// plots prints charts below each other.
func (b *book) plots(list []Plot) {
	for i := range list {
		b.gap(2)
		b.plot(&list[i], 74, "")
	}
}

// rearView prints what the driver can see.
func (b *book) rearView() {
	r := b.m.RearView
	if r == nil {
		return
	}
	b.chapter("Can the driver see?", "")
	b.paragraph(style{faceBold, 4, inkText}, r.Sentence)
	b.paragraph(styleBody, prefixed("Requirement: ", r.Requirement))
	b.gap(2)
	var rows [][]cell
	for _, row := range r.Rows {
		rows = append(rows, []cell{strong(row.What), text(row.Seen), text(row.Lost), text(row.NoLoss), text(row.Allowed), text(row.Margin), judged(row.Verdict)})
	}
	if len(rows) > 0 {
		b.table([]column{
			{head: "What", share: 1.6},
			{head: "Seen %", align: right, widthMM: 20},
			{head: "Lost %", align: right, widthMM: 20},
			{head: "No loss up to mm", align: right, widthMM: 28},
			{head: "Allowed up to mm", align: right, widthMM: 28},
			{head: "Margin mm", align: right, widthMM: 24},
			{head: "Verdict", widthMM: 24},
		}, rows)
	}
	for _, p := range r.Pictures {
		b.show(p, 78, "") // two on a page
	}
	if len(r.Notes) > 0 {
		b.sub("More figures, and what they rest on")
		b.bullets(r.Notes, "")
	}
}

// spots prints where components can be mounted.
func (b *book) spots() {
	if len(b.m.Spots) == 0 {
		return
	}
	b.chapter("Where can it be mounted?", heatHead)
	if b.m.Together != "" {
		b.paragraph(styleBody, b.m.Together)
		b.gap(1.5)
	}
	for i := range b.m.Spots {
		b.spotStudy(&b.m.Spots[i])
	}
}

// spotStudy prints the places of one component, and why others fell out.
func (b *book) spotStudy(s *SpotStudy) {
	const sentencesMM = 30 // between the heading and the table
	b.need(sentencesMM + headedMM)
	b.sub(joinNonEmpty(", ", s.Name, s.Role))
	b.paragraph(styleBody, s.Sentence)
	if s.LimitDegC != nil {
		b.paragraph(styleBody, "Limit of the component: "+withUnit(s.LimitDegC, tempDecimals, "°C."))
	}
	b.gap(1.5)
	var rows [][]cell
	for i := range s.Spots {
		p := &s.Spots[i]
		rows = append(rows, []cell{
			text(fmt.Sprint(p.Rank)), strong(p.Host), text(triple(&p.PointMM, placeDecimals)),
			text(shown(p.LowDegC, tempDecimals)), strong(shown(p.NominalDegC, tempDecimals)), text(shown(p.HighDegC, tempDecimals)),
			text(shown(p.ClearanceMM, gapDecimals)), text(shown(p.ReachMM, placeDecimals)), text(shown(p.Score, 2)),
			judged(p.Verdict), text(p.Remark),
		})
	}
	if len(rows) > 0 {
		number := func(head string) column { return column{head: head, align: right, widthMM: 18} }
		b.table([]column{
			{head: "Rank", align: right, widthMM: 12},
			{head: "Host", share: 1},
			{head: "Point X, Y, Z mm", widthMM: 36},
			number("Low °C"), number("Nominal °C"), number("High °C"),
			number("Clearance mm"), number("Lead mm"), number("Score"),
			{head: "Verdict", widthMM: 20},
			{head: "Remark", share: 1},
		}, rows)
	} else {
		b.paragraph(styleStrong, "No place was found.")
		b.gap(2)
	}
	b.refused(s)
	b.show(s.Picture, 110, Estimate)
	b.show(s.Best, 110, Estimate)
	b.show(s.Map, 110, Estimate)
	if len(s.Assumed) > 0 {
		b.paragraph(styleBody, "Assumed: "+strings.Join(s.Assumed, "; ")+".")
	}
}

// refused prints why places fell out, and what would open more.
func (b *book) refused(s *SpotStudy) {
	var rows [][]cell
	for _, r := range s.Refused {
		rows = append(rows, []cell{text(r.Reason), text(fmt.Sprint(r.Count)), text(r.Example)})
	}
	if len(rows) > 0 {
		b.table([]column{
			{head: "Places refused because", share: 1},
			{head: "Count", align: right, widthMM: 24},
			{head: "Narrowest miss", share: 2},
		}, rows)
	}
	if len(s.Changes) > 0 {
		b.gap(1.5)
		b.bullets(s.Changes, "")
	}
}

// changes prints what changed since the other revision.
func (b *book) changes() {
	c := b.m.Changes
	if c == nil {
		return
	}
	note := ""
	if hasHeat(b.m) {
		note = heatHead
	}
	b.chapter("What changed?", note)
	b.paragraph(style{faceBold, 4, inkText}, c.Sentence)
	b.paragraph(styleBody, c.Rest)
	b.bullets(c.Others, "")
	b.gap(2)
	var rows [][]cell
	for _, r := range c.Rows {
		rows = append(rows, []cell{strong(r.Kind), text(r.What), text(r.Before), text(r.After), judged(r.Verdict)})
	}
	if len(rows) > 0 {
		b.table([]column{
			{head: "Change", widthMM: 26},
			{head: "Part or finding", share: 1.6},
			{head: "Before", share: 1},
			{head: "After", share: 1},
			{head: "Verdict now", widthMM: 24},
		}, rows)
	}
	for i := range c.Tables {
		b.figures(&c.Tables[i])
	}
	b.changedParts(c)
	b.show(c.Picture, 120, "")
}

// changedParts prints the parts and the settings that differ.
func (b *book) changedParts(c *Changes) {
	var parts, settings [][]cell
	for _, p := range c.Parts {
		parts = append(parts, []cell{strong(p.Kind), strong(p.Part), text(p.UpTo), text(p.How)})
	}
	if len(parts) > 0 {
		b.sub("Parts")
		b.table([]column{
			{head: "Change", widthMM: 26},
			{head: "Part", share: 0.6},
			{head: "Up to mm", align: right, widthMM: 22},
			{head: "How", share: 2},
		}, parts)
	}
	for _, s := range c.Settings {
		settings = append(settings, []cell{strong(s.What), text(s.Before), text(s.After)})
	}
	if len(settings) > 0 {
		b.sub("Settings")
		b.table([]column{{head: "Where", share: 1}, {head: "Before", share: 1}, {head: "After", share: 1}}, settings)
	}
}
