package report

// drop prints how low the powertrain can go: window, limits, curves.
func (b *book) drop() {
	d := b.m.Drop
	if d == nil {
		return
	}
	b.chapter("How low can it go?", "")
	b.paragraph(style{faceBold, 4, inkText}, d.Sentence)
	if d.LeastMM != nil && d.MostMM != nil {
		b.gap(1)
		b.paragraph(styleBody, "Window: "+shown(d.LeastMM, gapDecimals)+" mm to "+withUnit(d.MostMM, gapDecimals, "mm")+" of drop.")
	}
	for _, n := range d.Notes {
		b.paragraph(styleBody, n)
	}
	var rows [][]cell
	for _, l := range d.Limits {
		binds := ""
		if l.Binding {
			binds = "this one binds"
		}
		rows = append(rows, []cell{
			stacked(span{style: styleCellB, text: l.Name}, span{style: styleCellM, text: binds}),
			strong(shown(l.MostMM, gapDecimals)), text(l.Detail), judged(l.Verdict),
			stacked(span{style: styleCellM, text: l.Source}, span{style: styleCellB, text: badge(l.Habit)}),
		})
	}
	if len(rows) > 0 {
		b.sub("What ends the drop")
		b.table([]column{
			{head: "Limit", share: 1.3},
			{head: "Most drop mm", align: right, widthMM: 22},
			{head: "There", share: 1},
			{head: "Verdict now", widthMM: 24},
			{head: "Source", share: 1},
		}, rows)
	}
	b.plots(d.Plots)
	for i := range d.Tables {
		b.figures(&d.Tables[i])
	}
	b.show(d.Map, 110, "")
	b.show(d.Picture, 120, "")
}

// naturalColumns shares the width out by what stands in the columns.
func (b *book) naturalColumns(f *Figures) []column {
	const mostMM = 70 // longer texts wrap
	columns := make([]column, len(f.Heads))
	for i, h := range f.Heads {
		wideMM := b.widthMM(style{faceBold, 2.35, inkAccent}, h.Text)
		for _, row := range f.Rows {
			if i < len(row) {
				wideMM = max(wideMM, b.widthMM(styleCellB, row[i]))
			}
		}
		columns[i] = column{head: h.Text, share: min(wideMM, mostMM) + 2*padXMM + asideMM}
		if h.Number {
			columns[i].align = right
		}
	}
	return columns
}

// figures prints a table of texts that are ready to read, with its foot.
func (b *book) figures(f *Figures) {
	if len(f.Rows) == 0 {
		return
	}
	b.gap(2)
	b.sub(f.Title)
	columns := b.naturalColumns(f)
	var rows [][]cell
	for _, r := range f.Rows {
		var cells []cell
		for i := range f.Heads {
			switch {
			case i >= len(r):
				cells = append(cells, text(""))
			case i == 0:
				cells = append(cells, strong(r[i]))
			default:
				cells = append(cells, text(r[i]))
			}
		}
		rows = append(rows, cells)
	}
	b.table(columns, rows)
	for _, line := range f.Foot {
		b.caption(line)
	}
}
