package report

import (
	"fmt"
	"slices"
	"strings"
)

// cover prints title, verdict strip, what stops us most, and the contents.
func (b *book) cover() {
	b.full()
	b.section, b.note = "", ""
	b.newPage()
	b.fill(frame{0, 0, 5, b.size.Ht}, inkAccent)
	b.yMM = 22
	b.use(styleBody)
	b.pdf.Bookmark("Cover", 0, 0)
	b.paragraph(style{faceBold, 3.1, inkAccent}, "LAYOUT REVIEW")
	b.gap(3)
	b.paragraph(styleTitle, b.m.Title)
	b.gap(2)
	named := joinNonEmpty("   ·   ", prefixed("variant ", b.m.Variant), prefixed("revision ", b.m.Revision),
		dateText(b.m, "2 January 2006"), b.m.Author)
	b.paragraph(style{faceRegular, 4, inkMuted}, named)
	b.gap(8)
	b.strip()
	if hasHeat(b.m) {
		b.paragraph(styleSmall, "Heat figures: "+heatHead)
	}
	if b.m.Stop != "" {
		b.gap(4)
		b.paragraph(style{faceBold, 4, inkText}, b.m.Stop)
	}
	b.gap(6)
	b.contents()
}

// prefixed puts a word before a text that says something.
func prefixed(word, text string) string {
	if text == "" {
		return ""
	}
	return word + text
}

// strip prints the tiles of the questions, three beside each other.
func (b *book) strip() {
	const across, gapMM, inMM = 3, 5.0, 4.0
	wMM := (b.bodyMM() - gapMM*(across-1)) / across
	answer := style{faceRegular, 3.3, inkText}
	question := style{faceBold, 3.6, inkText}
	for start := 0; start < len(b.m.Tiles); start += across {
		row := b.m.Tiles[start:min(start+across, len(b.m.Tiles))]
		hMM := 24.0
		for _, t := range row {
			lines := len(b.wrap(question, wMM-2*inMM-16, t.Question))
			h := float64(lines)*question.leadMM() + float64(len(b.wrap(answer, wMM-2*inMM, t.Answer)))*answer.leadMM()
			hMM = max(hMM, h+10)
		}
		b.need(hMM)
		for i, t := range row {
			b.tile(frame{sideMM + float64(i)*(wMM+gapMM), b.yMM, wMM, hMM}, t, inMM)
		}
		b.yMM += hMM + gapMM
	}
}

// tile prints one question with its answer, verdict shape and word.
func (b *book) tile(f frame, t Tile, inMM float64) {
	question, answer := style{faceBold, 3.6, inkText}, style{faceRegular, 3.3, inkText}
	b.fill(f, inkTint)
	_, colour := t.Verdict.sign()
	b.fill(frame{f.XMM, f.YMM, f.WMM, 1.1}, colour)
	at := point{f.XMM + inMM, f.YMM + inMM + 0.5}
	if t.Verdict != "" {
		word := style{faceBold, 3.3, inkText}
		wide := b.widthMM(word, string(t.Verdict))
		b.line(word, at, f.WMM-2*inMM, right, string(t.Verdict))
		b.sign(t.Verdict, point{f.XMM + f.WMM - inMM - wide - 3.4, at.YMM + 1.9}, 3.6)
	}
	for _, l := range b.wrap(question, f.WMM-2*inMM-16, t.Question) {
		b.line(question, at, f.WMM, left, l)
		at.YMM += question.leadMM()
	}
	at.YMM += 1.5
	for _, l := range b.wrap(answer, f.WMM-2*inMM, t.Answer) {
		b.line(answer, at, f.WMM, left, l)
		at.YMM += answer.leadMM()
	}
}

// contents lists the sections with their pages, two columns, each line a link.
func (b *book) contents() {
	entries := b.before
	if len(entries) == 0 {
		return // first count: the sections are not known yet
	}
	const lineMM = 5.2
	rows := (len(entries) + 1) / 2
	b.need(float64(rows) * lineMM)
	wMM := (b.bodyMM() - 12) / 2
	for i, e := range entries {
		x := sideMM + float64(i/rows)*(wMM+12)
		y := b.yMM + float64(i%rows)*lineMM
		b.line(styleBody, point{x, y}, wMM, left, e.Title)
		b.line(styleBody, point{x, y}, wMM, right, fmt.Sprint(e.Page))
		titleMM, pageMM := b.widthMM(styleBody, e.Title), b.widthMM(styleBody, fmt.Sprint(e.Page))
		b.rule(stroke{ink: inkLine, thickMM: 0.2, dashMM: []float64{0.3, 1.2}},
			point{x + titleMM + 2, y + 2.9}, point{x + wMM - pageMM - 2, y + 2.9})
		b.pdf.Link(x, y-0.8, wMM, lineMM, e.Link)
	}
	b.yMM += float64(rows) * lineMM
}

// summary prints the answers as a table, the counts, and what the words mean.
func (b *book) summary() {
	b.chapter("Summary by question", "")
	var rows [][]cell
	for _, t := range b.m.Tiles {
		verdict := span{style: styleStrong, text: wordOr(t.Verdict), mark: t.Verdict}
		rows = append(rows, []cell{
			{spans: []span{{style: styleStrong, text: t.Question}}},
			{spans: []span{{style: styleBody, text: t.Answer}}},
			{spans: []span{verdict}},
		})
	}
	if len(rows) > 0 {
		b.table([]column{{head: "Question", share: 1}, {head: "Answer", share: 3}, {head: "Verdict", widthMM: 28}}, rows)
	} else {
		b.paragraph(styleBody, "No question was answered.")
	}
	if hasHeat(b.m) {
		b.paragraph(styleSmall, "Heat figures: "+heatHead)
	}
	b.counts()
	b.leftOut()
	b.sub("Frame, units and states")
	b.paragraph(styleBody, b.m.Axes)
	b.paragraph(styleBody, b.m.Units)
	b.gap(1.5)
	var states [][]cell
	for _, s := range b.m.States {
		states = append(states, []cell{strong(s.Name), text(s.Meaning)})
	}
	if len(states) > 0 {
		b.table([]column{{head: "State", widthMM: 34}, {head: "Meaning", share: 1}}, states)
	}
	b.paragraph(styleSmall, "Verdicts, worst first: overlap (solids share space), short (clearance below what is required), "+
		"over (above the limit), close (met with little to spare), ok, no rule (nothing says what is required). "+
		"A requirement marked “"+HabitBadge+"” rests on trade habit alone.")
}

// leftOut says how much was not judged, and where the reasons stand.
func (b *book) leftOut() {
	if b.web != nil {
		b.paragraph(styleBody, fmt.Sprintf("Not checked (pairs or questions): %d. Joined by intent and so not checked (pairs): %d. Reasons under “%s”.",
			len(missing(b.m))+len(b.m.Unchecked), len(b.m.Joined), basisTitle))
		return
	}
	page := unknown // known from the second pass on
	for _, e := range b.before {
		if e.Title == basisTitle {
			page = fmt.Sprint(e.Page)
		}
	}
	b.paragraph(styleBody, fmt.Sprintf("Not checked (pairs or questions): %d. Joined by intent and so not checked (pairs): %d. Reasons on page %s.",
		len(missing(b.m))+len(b.m.Unchecked), len(b.m.Joined), page))
}

// counts prints how many findings have which verdict in which state.
func (b *book) counts() {
	if len(b.m.Findings) == 0 {
		return
	}
	var states []string // those explained first, in their order
	for _, state := range b.m.States {
		states = append(states, state.Name)
	}
	count := map[string]int{} // by state, and by state and verdict
	for i := range b.m.Findings {
		f := &b.m.Findings[i]
		if !slices.Contains(states, f.State) {
			states = append(states, f.State)
		}
		count[f.State]++
		count[f.State+"\x00"+string(f.Verdict)]++
	}
	columns := []column{{head: "State", share: 1}}
	for _, v := range verdicts {
		columns = append(columns, column{head: strings.ToUpper(string(v[0])) + string(v[1:]), align: right, widthMM: 22})
	}
	columns = append(columns, column{head: "All", align: right, widthMM: 22})
	var rows [][]cell
	for _, s := range states {
		if count[s] == 0 {
			continue
		}
		row := []cell{strong(s)}
		for _, v := range verdicts {
			row = append(row, text(fmt.Sprint(count[s+"\x00"+string(v)])))
		}
		rows = append(rows, append(row, strong(fmt.Sprint(count[s]))))
	}
	b.sub("Findings by state and verdict")
	b.table(columns, rows)
}
