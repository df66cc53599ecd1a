package report

// span is a run of text in a cell; each starts on a line of its own.
type span struct {
	style style
	text  string
	mark  Verdict // drawn before the first line
}

// cell is what stands in one field of a table.
type cell struct {
	spans []span
	link  int           // leads to another page, where not 0
	draw  func(f frame) // drawn in the first line's height instead of text
	svg   string        // the same for the page on the screen
}

// column is a field of every row. Width is in page mm; a column with share > 0
// takes its part of what the fixed ones leave.
type column struct {
	head    string
	align   align
	widthMM float64
	share   float64
	endMM   float64 // air at the right end; set by spaced
}

// Measures inside tables, page mm.
const (
	padXMM  = 1.1
	asideMM = 3.0 // more air between a right-aligned column and a left-aligned one
	padYMM  = 1.1
	markMM  = 2.5
	bandMM  = 4.0 // height of a drawn cell
	headMM  = 0.9 // air above and below the heads
	markGap = 1.2
	partMM  = 25.0 // least height of a part of a divided row
)

// text is a plain cell.
func text(s string) cell { return cell{spans: []span{{style: styleCell, text: s}}} }

// strong is a cell in bold.
func strong(s string) cell { return cell{spans: []span{{style: styleCellB, text: s}}} }

// judged is the cell of a verdict: its mark and its word.
func judged(v Verdict) cell {
	if v == "" {
		return text(unknown)
	}
	return cell{spans: []span{{style: styleCellB, text: string(v), mark: v}}}
}

// linked is the cell with a link.
func linked(c cell, link int) cell {
	c.link = link
	return c
}

// stacked is a cell of several spans; empty ones are left out.
func stacked(spans ...span) cell {
	var c cell
	for _, s := range spans {
		if s.text != "" {
			c.spans = append(c.spans, s)
		}
	}
	return c
}

// cellLine is one wrapped line of a cell.
type cellLine struct {
	style style
	text  string
	mark  Verdict
	inMM  float64 // left of the text, for the mark
	link  int
	draw  func(f frame)
}

func (l cellLine) heightMM() float64 {
	if l.draw != nil {
		return bandMM
	}
	return l.style.leadMM()
}

// spaced gives right-aligned columns air before left-aligned ones.
func spaced(columns []column) []column {
	out := append([]column(nil), columns...)
	for i := range out {
		if out[i].align == right && i+1 < len(out) && out[i+1].align != right {
			out[i].endMM = asideMM
			if out[i].share == 0 {
				out[i].widthMM += asideMM
			}
		}
	}
	return out
}

// table prints rows below each other with the heads on every page. A row that
// doesn't fit goes to the next page; one that is higher than a page is divided
// between lines, so that no word is lost.
func (b *book) table(columns []column, rows [][]cell) {
	columns = spaced(columns)
	widthsMM := b.columnWidths(columns)
	if b.web != nil {
		b.web.table(columns, widthsMM, rows)
		return
	}
	heads := make([][]cellLine, len(columns))
	for i, col := range columns {
		s := style{faceBold, 2.35, inkAccent}
		for _, l := range b.wrap(s, widthsMM[i]-2*padXMM-col.endMM, col.head) {
			heads[i] = append(heads[i], cellLine{style: s, text: l})
		}
	}
	headHeightMM := tallestMM(heads) + 2*headMM
	for i, row := range rows {
		lines := b.rowLines(columns, widthsMM, row)
		wantMM := tallestMM(lines) + 2*padYMM
		if wantMM > b.floorMM()-topMM-headHeightMM {
			wantMM = partMM // it must be divided anyway
		}
		switch {
		case i == 0:
			b.need(headHeightMM + b.firstRowsMM(columns, widthsMM, rows, wantMM))
			b.tableHead(columns, widthsMM, heads)
		case i == len(rows)-2 && b.yMM+wantMM <= b.floorMM() && b.widow(columns, widthsMM, rows, wantMM):
			b.newPage()
			b.tableHead(columns, widthsMM, heads)
		case b.yMM+wantMM > b.floorMM():
			b.newPage()
			b.tableHead(columns, widthsMM, heads)
		}
		for {
			lines = b.rowPart(columns, widthsMM, lines)
			if tallestMM(lines) == 0 {
				break
			}
			b.newPage()
			b.tableHead(columns, widthsMM, heads)
		}
	}
	b.gap(3)
}

// firstRowsMM is the room that the first rows of a table want, so that not one
// alone stands at the foot of a page. firstMM is the height of the first.
func (b *book) firstRowsMM(columns []column, widthsMM []float64, rows [][]cell, firstMM float64) float64 {
	const rowsTogether, mostMM = 3, 26
	wantMM := firstMM
	for i := 1; i < min(rowsTogether, len(rows)); i++ {
		wantMM += tallestMM(b.rowLines(columns, widthsMM, rows[i])) + 2*padYMM
	}
	return max(firstMM, min(wantMM, mostMM))
}

// widow reports whether the last row alone would go to the next page.
func (b *book) widow(columns []column, widthsMM []float64, rows [][]cell, beforeMM float64) bool {
	lastMM := tallestMM(b.rowLines(columns, widthsMM, rows[len(rows)-1])) + 2*padYMM
	return len(rows) > 2 && b.yMM+beforeMM+lastMM > b.floorMM()
}

// columnWidths shares the column's width out.
func (b *book) columnWidths(columns []column) []float64 {
	freeMM, shares := b.column.WMM, 0.0
	for _, col := range columns {
		freeMM -= col.widthMM
		shares += col.share
	}
	widthsMM := make([]float64, len(columns))
	for i, col := range columns {
		widthsMM[i] = col.widthMM
		if col.share > 0 {
			widthsMM[i] += freeMM * col.share / shares
		}
	}
	return widthsMM
}

// tableHead prints the heads at the current height.
func (b *book) tableHead(columns []column, widthsMM []float64, heads [][]cellLine) {
	h := tallestMM(heads) + 2*headMM
	b.fill(frame{b.column.XMM, b.yMM, b.column.WMM, h}, inkTint)
	x := b.column.XMM
	for i := range columns {
		y := b.yMM + headMM
		for _, l := range heads[i] {
			b.line(l.style, point{x + padXMM, y}, widthsMM[i]-2*padXMM-columns[i].endMM, columns[i].align, l.text)
			y += l.heightMM()
		}
		x += widthsMM[i]
	}
	b.yMM += h
	b.rule(stroke{ink: inkAccent, thickMM: 0.35}, point{b.column.XMM, b.yMM}, point{x, b.yMM})
}

// rowLines wraps the cells of a row.
func (b *book) rowLines(columns []column, widthsMM []float64, row []cell) [][]cellLine {
	lines := make([][]cellLine, len(row))
	for i, c := range row {
		if c.draw != nil {
			lines[i] = append(lines[i], cellLine{draw: c.draw})
		}
		for _, s := range c.spans {
			in := 0.0
			if s.mark != "" {
				in = markMM + markGap
			}
			for j, l := range b.wrap(s.style, widthsMM[i]-2*padXMM-columns[i].endMM-in, s.text) {
				line := cellLine{style: s.style, text: l, inMM: in, link: c.link}
				if j == 0 {
					line.mark = s.mark
				}
				lines[i] = append(lines[i], line)
			}
		}
	}
	return lines
}

// rowPart prints as many lines of a row as fit and returns the others.
func (b *book) rowPart(columns []column, widthsMM []float64, lines [][]cellLine) [][]cellLine {
	rest := make([][]cellLine, len(lines))
	x, lowest := b.column.XMM, b.yMM
	for i, cellLines := range lines {
		y := b.yMM + padYMM
		for j, l := range cellLines {
			if y+l.heightMM()+padYMM > b.floorMM()+0.01 && y > topMM+30 {
				rest[i] = cellLines[j:]
				break
			}
			b.cellLine(l, frame{x + padXMM, y, widthsMM[i] - 2*padXMM - columns[i].endMM, l.heightMM()}, columns[i].align)
			y += l.heightMM()
		}
		lowest = max(lowest, y)
		x += widthsMM[i]
	}
	b.yMM = lowest + padYMM
	b.rule(stroke{ink: inkLine, thickMM: 0.15}, point{b.column.XMM, b.yMM}, point{x, b.yMM})
	return rest
}

// cellLine prints one line of a cell into f.
func (b *book) cellLine(l cellLine, f frame, a align) {
	if l.draw != nil {
		l.draw(f)
		return
	}
	if l.mark != "" {
		b.sign(l.mark, point{f.XMM + markMM/2, f.YMM + 0.58*l.style.sizeMM}, markMM)
	}
	b.line(l.style, point{f.XMM + l.inMM, f.YMM}, f.WMM-l.inMM, a, l.text)
	if l.link != 0 {
		b.pdf.Link(f.XMM, f.YMM, f.WMM, f.HMM, l.link)
	}
}

// tallestMM returns the height of the highest cell.
func tallestMM(cells [][]cellLine) float64 {
	tallest := 0.0
	for _, lines := range cells {
		h := 0.0
		for _, l := range lines {
			h += l.heightMM()
		}
		tallest = max(tallest, h)
	}
	return tallest
}
