package report

// basisTitle heads the section that other pages point to.
const basisTitle = "Basis: assumptions, gaps, inputs"

// basis prints what the answers rest on and what they leave out.
func (b *book) basis() {
	b.chapter(basisTitle, "")
	b.sub("Assumptions")
	b.bullets(b.m.Assumptions, "None was written down.")
	b.sub("Not checked, and why")
	b.unchecked()
	b.sub("Joined pairs: contact is intended, not checked")
	var joined [][]cell
	for i := 0; i < len(b.m.Joined); i += 2 {
		row := []cell{text(b.m.Joined[i].PartA), text(b.m.Joined[i].PartB), text(""), text("")}
		if i+1 < len(b.m.Joined) {
			row[2], row[3] = text(b.m.Joined[i+1].PartA), text(b.m.Joined[i+1].PartB)
		}
		joined = append(joined, row)
	}
	if len(joined) > 0 {
		b.table([]column{
			{head: "Part A", share: 1}, {head: "Part B", share: 1}, {head: "Part A", share: 1}, {head: "Part B", share: 1},
		}, joined)
	} else {
		b.paragraph(styleBody, "None.")
	}
	b.sub("Inputs with check sums")
	var inputs [][]cell
	for _, in := range b.m.Inputs {
		inputs = append(inputs, []cell{text(in.Path), {spans: []span{{style: styleCellFix, text: in.SHA256}}}})
	}
	if len(inputs) > 0 {
		b.table([]column{{head: "File", share: 1}, {head: "SHA-256", widthMM: 96}}, inputs)
	} else {
		b.paragraph(styleBody, "None was named.")
	}
}

// bullets prints short texts below each other, or what to say without any.
func (b *book) bullets(texts []string, none string) {
	if len(texts) == 0 {
		b.paragraph(styleBody, none)
	}
	if b.web != nil {
		for _, t := range texts {
			b.web.p("body", "• "+t)
		}
		return
	}
	whole := b.column
	for _, t := range texts {
		b.column = frame{XMM: whole.XMM + 4, WMM: whole.WMM - 4}
		b.need(styleBody.leadMM())
		b.fill(frame{whole.XMM + 0.5, b.yMM + 1.6, 1.6, 0.5}, inkAccent)
		b.paragraph(styleBody, t)
		b.gap(0.6)
		b.column = whole
	}
}

// unchecked lists pairs and questions left out, with those of the questions
// that this report holds nothing about.
func (b *book) unchecked() {
	var rows [][]cell
	for _, u := range missing(b.m) {
		rows = append(rows, []cell{strong(u.What), text(u.State), text(u.Reason)})
	}
	for _, u := range b.m.Unchecked {
		rows = append(rows, []cell{strong(u.What), text(u.State), text(u.Reason)})
	}
	if len(rows) == 0 {
		b.paragraph(styleBody, "Every pair was checked in every state that has a rule.")
		return
	}
	b.table([]column{{head: "What", share: 1.2}, {head: "State", widthMM: 30}, {head: "Why", share: 1.6}}, rows)
}

// missing names the questions that the model has no study for.
func missing(m *Model) []Unchecked {
	const why = "not part of this report"
	var out []Unchecked
	for _, q := range []struct {
		what   string
		absent bool
	}{
		{"Does it fit?", len(m.Findings) == 0},
		{"How low can it go?", m.Drop == nil},
		{"Can the driver see?", m.RearView == nil},
		{"What gets hot?", m.Heat == nil},
		{"Where can it be mounted?", len(m.Spots) == 0},
		{"What changed?", m.Changes == nil},
	} {
		if q.absent {
			out = append(out, Unchecked{What: q.what, Reason: why})
		}
	}
	return out
}

// sources lists what limits and table values rest on.
func (b *book) sources() {
	if len(b.m.Sources) == 0 {
		return
	}
	b.chapter("Sources", "")
	b.paragraph(styleSmall, "Marks: seen = the text itself was read; memory = quoted from memory, check before use; "+
		"common practice = trade habit without a source.")
	b.gap(1.5)
	var rows [][]cell
	for _, s := range b.m.Sources {
		rows = append(rows, []cell{strong(s.For), text(s.Text), text(string(s.Mark))})
	}
	b.table([]column{{head: "For", share: 1}, {head: "Source", share: 2.2}, {head: "Mark", widthMM: 30}}, rows)
}

// cautions prints the warnings about people.
func (b *book) cautions() {
	list := b.m.Cautions
	if len(list) == 0 {
		list = StandingCautions()
	}
	b.chapter("Cautions", heatHead)
	for _, c := range list {
		b.sub(c.Title)
		b.paragraph(styleBody, c.Text)
		var rows [][]cell
		for _, r := range c.Rows {
			rows = append(rows, []cell{strong(r.What), text(r.Range), text(r.Note), {spans: []span{{style: styleCellM, text: r.From}}}})
		}
		if len(rows) > 0 {
			b.gap(1.5)
			b.table([]column{
				{head: "What", share: 1.2}, {head: "Range", widthMM: 40}, {head: "Note", share: 1.2}, {head: "Source", share: 1.2},
			}, rows)
		}
	}
}
