package report

import (
	"math"
	"strconv"
	"strings"
)

// failing prints the list of what fails, who acts and until when, then a page
// for each of these findings, in the model's order.
func (b *book) failing() {
	var list []*Finding
	for i := range b.m.Findings {
		if b.m.Findings[i].Verdict.Fails() {
			list = append(list, &b.m.Findings[i])
		}
	}
	if len(list) == 0 {
		return
	}
	b.chapter("Findings that fail", "")
	var rows [][]cell
	links := make([]int, len(list)) // from the list to the pages
	for i, f := range list {
		links[i] = b.pdf.AddLink()
		page := unknown // known from the second pass on
		if i < len(b.failBefore) {
			page = strconv.Itoa(b.failBefore[i])
		}
		rows = append(rows, []cell{
			linked(strong(f.ID), links[i]), linked(text(f.Title()), links[i]), text(f.State), strong(gapText(f)), text(shown(f.RequiredMM, gapDecimals)),
			strong(shown(f.MarginMM, gapDecimals)), judged(f.Verdict), text(f.Owner), text(f.Due), text(f.Decision), linked(text(page), links[i]),
		})
	}
	number := func(head string) column { return column{head: head, align: right, widthMM: 18} }
	columns := []column{
		{head: "No.", widthMM: 16},
		{head: "Parts", share: 2},
		{head: "State", widthMM: 22},
		number("Live gap mm"), number("Required mm"), number("Margin mm"),
		{head: "Verdict", widthMM: 20},
		{head: "Owner", share: 0.6},
		{head: "Due", widthMM: 19},
		{head: "Decision", widthMM: 17},
		{head: "Page", align: right, widthMM: 12},
	}
	if b.web != nil { // a page on the screen has no number
		columns = columns[:len(columns)-1]
		for i := range rows {
			rows[i] = rows[i][:len(columns)]
		}
	}
	b.table(columns, rows)
	for i, f := range list {
		if b.web != nil {
			b.web.target = links[i]
			b.webFinding(f)
			continue
		}
		b.full()
		b.note = ""
		b.newPage()
		b.pdf.SetLink(links[i], 0, b.pdf.PageNo())
		b.failPages = append(b.failPages, b.pdf.PageNo())
		b.enter(joinNonEmpty(" ", f.ID, f.Title()), 1)
		b.findingPage(f)
	}
}

// findingPage prints one finding: pictures at the left, figures at the right.
func (b *book) findingPage(f *Finding) {
	wide := b.bodyMM()
	top := b.yMM
	b.column = frame{XMM: sideMM, WMM: wide - 42} // the verdict stands beside
	b.paragraph(style{faceBold, 3.1, inkAccent}, f.ID)
	b.gap(0.6)
	title := style{faceBold, 5.4, inkText}
	if len(b.wrap(title, b.column.WMM, f.Title())) > 2 {
		title.sizeMM = 4.1
	}
	b.paragraph(title, f.Title())
	word := style{faceBold, 5, inkText}
	textMM := b.widthMM(word, string(f.Verdict))
	b.line(word, point{sideMM, top + 0.3}, wide, right, string(f.Verdict))
	b.sign(f.Verdict, point{sideMM + wide - textMM - 5, top + 3.1}, 5.4)
	b.full()
	b.paragraph(styleSmall, findingLine(f))
	b.gap(3)
	b.note = b.fitted(styleStrong, wide/2, f.ID, "continued") // should the figures run on to another page
	const leastMM = 70                                        // room that pictures and figures need beside each other
	if b.floorMM()-b.yMM < leastMM {
		b.newPage()
	}

	start := b.yMM
	b.column = frame{XMM: sideMM, WMM: wide*0.6 - 4}
	b.findingPictures(f)
	b.yMM = start
	b.column = frame{XMM: sideMM + wide*0.6 + 4, WMM: wide*0.4 - 4}
	b.findingFigures(f)
	b.full()
}

// findingLine says where and of what a finding is.
func findingLine(f *Finding) string {
	return joinNonEmpty("   ·   ", prefixed("state: ", f.State), prefixed("zone: ", f.Zone),
		prefixed("roles: ", joinNonEmpty(" / ", f.RoleA, f.RoleB)), prefixed("revisions: ", joinNonEmpty(" / ", f.RevA, f.RevB)))
}

// findingPictures places picture and section above each other.
func (b *book) findingPictures(f *Finding) {
	if f.Picture == nil && f.Section == nil {
		at := frame{b.column.XMM, b.yMM, b.column.WMM, 40}
		b.box(stroke{ink: inkLine, thickMM: 0.2}, at)
		b.line(styleSmall, point{at.XMM, at.YMM + 18}, at.WMM, centre, "No picture was made for this finding.")
		return
	}
	both := f.Picture != nil && f.Section != nil
	for _, p := range []*Picture{f.Picture, f.Section} {
		if p == nil {
			continue
		}
		words := b.captionBeside(p)
		belowMM := float64(len(b.wrap(styleSmall, b.column.WMM, words)))*styleSmall.leadMM() + 3
		hMM := b.floorMM() - b.yMM - belowMM
		if both && p == f.Picture {
			hMM = 0.56*(b.floorMM()-b.yMM) - belowMM
		}
		at, err := b.picture(frame{b.column.XMM, b.yMM, b.column.WMM, hMM}, p)
		if err != nil && b.err == nil {
			b.err = err
		}
		b.yMM = at.YMM + at.HMM + 1
		b.paragraph(styleSmall, words)
		b.gap(2)
	}
}

// captionBeside returns the words below a finding's picture: the caption, or
// where it is longer than three lines the name alone, for then the caption
// stands among the facts.
func (b *book) captionBeside(p *Picture) string {
	const most = 3
	if len(b.wrap(styleSmall, b.bodyMM()*0.6-4, pictureWords(p))) > most {
		return "[" + p.Name + "]"
	}
	return pictureWords(p)
}

// longCaption returns the caption that captionBeside has left out.
func (b *book) longCaption(p *Picture) string {
	if p == nil || b.captionBeside(p) == pictureWords(p) {
		return ""
	}
	return pictureWords(p)
}

// findingFigures prints the gap, its budget, the facts and the decision.
func (b *book) findingFigures(f *Finding) {
	big := style{faceBold, 11, inkText}
	b.line(big, point{b.column.XMM, b.yMM}, b.column.WMM, left, gapText(f)+prefixed(" ", unitIf(f.LiveMM, "mm")))
	b.yMM += big.leadMM() - 1
	b.paragraph(styleStrong, verdictWords(f))
	b.paragraph(styleBody, rssWords(f))
	b.gap(2.5)
	b.budget(f)
	b.facts(findingFacts(f))
	b.decision(f)
	b.facts(findingHistory(f))
	b.gap(2)
	b.facts(append(findingBasis(f), [2]string{"Picture", b.longCaption(f.Picture)}, [2]string{"Section", b.longCaption(f.Section)}))
}

// findingFacts are the figures of a finding with their names.
func findingFacts(f *Finding) [][2]string {
	return [][2]string{
		{"Required", withUnit(f.RequiredMM, gapDecimals, "mm")},
		{"Margin", withUnit(f.MarginMM, gapDecimals, "mm")},
		{"Error bound", errorText(f.ErrorMM)},
		{"Facet error", facetText(f.ChordErrorMM)},
		{"Point on A", triple(f.PointAMM, placeDecimals)},
		{"Point on B", triple(f.PointBMM, placeDecimals)},
		{"Direction", triple(f.Direction, wayDecimals)},
		{"Dimension", f.Dimension},
		{"Worst pose", f.WorstPose},
		{"Shared space", withUnit(f.VolumeMM3, 0, "mm³")},
		{"Move B out by", triple(f.MoveOutMM, gapDecimals)},
	}
}

// findingBasis is what the requirement rests on.
func findingBasis(f *Finding) [][2]string {
	return [][2]string{{"Rule", f.Rule}, {"Source", joinNonEmpty("\n", f.Source, badge(f.Habit))}}
}

// findingHistory is what was decided when.
func findingHistory(f *Finding) [][2]string {
	return [][2]string{{"History", strings.Join(f.History, "\n")}}
}

func unitIf(v *float64, unit string) string {
	if v == nil {
		return ""
	}
	return unit
}

// verdictWords says in words how far the finding is off.
func verdictWords(f *Finding) string {
	switch {
	case f.Verdict == Overlap && f.LiveMM != nil:
		return "The parts overlap by up to " + plain(math.Abs(*f.LiveMM), gapDecimals) + " mm."
	case f.Verdict == Overlap:
		return "The parts overlap."
	case f.MarginMM != nil && f.RequiredMM != nil && *f.MarginMM < 0:
		return "Short by " + plain(-*f.MarginMM, gapDecimals) + " mm of the " + plain(*f.RequiredMM, gapDecimals) + " mm required."
	}
	return ""
}

// rssWords says what the root sum square of the tolerances would leave.
func rssWords(f *Finding) string {
	if f.LiveRSSMM == nil {
		return ""
	}
	return "With root-sum-square tolerance: " + withUnit(f.LiveRSSMM, gapDecimals, "mm") + ". The figure above is the worst case."
}

// facetText prints a chord error, which is an estimate.
func facetText(errorMM *float64) string {
	if errorMM == nil || *errorMM == 0 {
		return withUnit(errorMM, 0, "mm")
	}
	return "up to " + shown(errorMM, gapDecimals) + " mm, an estimate"
}

// facts prints names and values below each other; unknown ones are left out.
func (b *book) facts(pairs [][2]string) {
	if b.web != nil {
		b.web.facts(pairs)
		return
	}
	const nameMM = 25.0
	for _, p := range pairs {
		if p[1] == "" || p[1] == unknown {
			continue
		}
		column := b.column
		lines := b.wrap(styleCell, column.WMM-nameMM, p[1])
		b.need(min(float64(len(lines))*styleCell.leadMM(), 30))
		b.line(style{faceRegular, styleCell.sizeMM, inkMuted}, point{column.XMM, b.yMM}, nameMM, left, p[0])
		for _, l := range lines {
			b.need(styleCell.leadMM())
			b.line(styleCell, point{column.XMM + nameMM, b.yMM}, column.WMM, left, l)
			b.yMM += styleCell.leadMM()
		}
		b.gap(0.6)
	}
}

// decision prints the fields of the review: filled in, or lines to write on.
func (b *book) decision(f *Finding) {
	b.gap(2)
	b.need(30)
	b.rule(stroke{ink: inkAccent, thickMM: 0.35}, point{b.column.XMM, b.yMM}, point{b.column.XMM + b.column.WMM, b.yMM})
	b.gap(2)
	for _, field := range [][2]string{{"Decision", f.Decision}, {"Owner", f.Owner}, {"Due", f.Due}, {"Comment", f.Comment}} {
		if field[1] != "" {
			b.facts([][2]string{field})
			b.gap(0.8)
			continue
		}
		b.need(6)
		b.line(style{faceRegular, styleCell.sizeMM, inkMuted}, point{b.column.XMM, b.yMM + 1}, 25, left, field[0])
		b.rule(stroke{ink: inkLine, thickMM: 0.2}, point{b.column.XMM + 25, b.yMM + 4.4},
			point{b.column.XMM + b.column.WMM, b.yMM + 4.4})
		b.yMM += 6
	}
}
