package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
)

// lineLooks tells the curves of a plot apart, by colour and by dashes. Colours
// after Okabe and Ito, from memory. Read-only.
var lineLooks = [...]stroke{
	{ink{10, 78, 84}, 0.5, nil},
	{ink{213, 94, 0}, 0.5, []float64{2.4, 1}},
	{ink{0, 114, 178}, 0.5, []float64{0.7, 0.9}},
	{ink{204, 121, 167}, 0.5, []float64{4, 1, 0.7, 1}},
	{ink{0, 158, 115}, 0.5, []float64{5, 1.2}},
	{ink{86, 180, 233}, 0.5, []float64{1.5, 0.6}},
}

// scale maps values to places along one axis.
type scale struct {
	ends  mgl64.Vec2 // low and high, in the unit of the plot
	steps int        // between the ends, all of one length
}

// step returns the distance of two labels.
func (s scale) step() float64 { return (s.ends[1] - s.ends[0]) / float64(s.steps) }

// niceScale covers [low, high] with about n steps of 1, 2 or 5 times a power of
// ten. A span of nothing is widened about its value.
func niceScale(span mgl64.Vec2, n int) scale {
	low, high := span[0], span[1]
	if high-low <= 1e-12*math.Max(math.Abs(low), math.Abs(high)) {
		half := math.Max(1, math.Abs(low)/10)
		low, high = low-half, high+half
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(n))))
	for _, factor := range []float64{1, 2, 5, 10} {
		if (high-low)/(step*factor) <= float64(n) {
			step *= factor
			break
		}
	}
	const slack = 1e-9 // of a step: an end that lies on a step stays there
	first, last := math.Floor(low/step+slack), math.Ceil(high/step-slack)
	return scale{ends: mgl64.Vec2{first * step, last * step}, steps: int(last - first)}
}

// at returns where v lies, 0 at the low end and 1 at the high.
func (s scale) at(v float64) float64 { return (v - s.ends[0]) / (s.ends[1] - s.ends[0]) }

// ticks returns the places of the labels.
func (s scale) ticks() []float64 {
	places := make([]float64, s.steps+1)
	for i := range places {
		places[i] = s.ends[0] + float64(float64(i)*s.step())
	}
	return places
}

// label prints a tick with the decimals that the step needs.
func (s scale) label(v float64) string {
	decimals := max(0, -int(math.Floor(math.Log10(s.step())+1e-9)))
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if isZeroText(text) {
		return "0"
	}
	if text[0] == '-' {
		return "−" + text[1:]
	}
	return text
}

// scales covers every point and mark of a plot.
func scales(p *Plot) (x, y scale) {
	lowest := mgl64.Vec2{math.Inf(1), math.Inf(1)}
	highest := mgl64.Vec2{math.Inf(-1), math.Inf(-1)}
	grow := func(axis int, v float64) {
		lowest[axis], highest[axis] = min(lowest[axis], v), max(highest[axis], v)
	}
	for _, l := range p.Lines {
		for _, at := range l.Points {
			grow(0, at[0])
			grow(1, at[1])
		}
	}
	for _, m := range p.Marks {
		if m.Upright {
			grow(0, m.Place[0])
		} else {
			grow(1, m.Place[1])
		}
	}
	for axis := range 2 {
		if lowest[axis] > highest[axis] {
			lowest[axis], highest[axis] = 0, 1
		}
	}
	return niceScale(mgl64.Vec2{lowest[0], highest[0]}, 8), niceScale(mgl64.Vec2{lowest[1], highest[1]}, 6)
}

// plot draws a line chart in the column, hMM high without legend, caption and
// remark.
func (b *book) plot(p *Plot, hMM float64, remark string) {
	empty := true
	for _, l := range p.Lines {
		empty = empty && len(l.Points) == 0
	}
	if empty {
		return
	}
	if b.web != nil {
		fmt.Fprintf(b.web.out, "<h4>%s</h4>\n%s", esc(p.Title), plotSVG(p))
		b.caption(joinNonEmpty("\n", p.Caption, remark))
		return
	}
	legendMM := float64(len(p.Lines))*bandMM + float64(len(p.Marks))*styleCell.leadMM()
	b.need(hMM + legendMM + 12)
	b.paragraph(styleStrong, p.Title)
	b.gap(1)
	xs, ys := scales(p)
	gutterMM := 2.0
	for _, v := range ys.ticks() {
		gutterMM = max(gutterMM, 2+b.widthMM(styleTick, ys.label(v)))
	}
	b.paragraph(styleCell, p.YLabel)
	if slices.ContainsFunc(p.Marks, func(m PlotMark) bool { return m.Upright }) {
		b.gap(2.2) // for their letters
	}
	lanesMM := letterMM * float64(1+slices.Max(append(lanes(p, ys, 2.6/(hMM-14)), 1)))
	area := frame{b.column.XMM + gutterMM, b.yMM + 1.6, b.column.WMM - gutterMM - lanesMM, hMM - 14}
	b.axes(area, xs, ys)
	for i, l := range p.Lines {
		look := lineLooks[i%len(lineLooks)]
		for j := 1; j < len(l.Points); j++ {
			b.rule(look, area.place(xs, ys, l.Points[j-1]), area.place(xs, ys, l.Points[j]))
		}
		if len(l.Points) == 1 {
			at := area.place(xs, ys, l.Points[0])
			b.fill(frame{at.XMM - 0.6, at.YMM - 0.6, 1.2, 1.2}, look.ink)
		}
	}
	b.plotMarks(p, area, xs, ys)
	b.yMM = area.YMM + area.HMM + 4.8
	for _, l := range b.wrap(styleCell, area.WMM, p.XLabel) {
		b.line(styleCell, point{area.XMM, b.yMM}, area.WMM, right, l)
		b.yMM += styleCell.leadMM()
	}
	b.gap(1)
	b.legend(p)
	b.caption(joinNonEmpty("\n", p.Caption, remark))
}

// place returns where a point of the plot lies on the page.
func (f frame) place(xs, ys scale, at mgl64.Vec2) point {
	return point{f.XMM + f.WMM*xs.at(at[0]), f.YMM + f.HMM*(1-ys.at(at[1]))}
}

// axes draws the grid and the ticks.
func (b *book) axes(area frame, xs, ys scale) {
	grid := stroke{ink: inkLine, thickMM: 0.12}
	for _, v := range ys.ticks() {
		at := area.place(xs, ys, mgl64.Vec2{xs.ends[0], v})
		b.rule(grid, at, point{at.XMM + area.WMM, at.YMM})
		b.line(styleTick, point{b.column.XMM, at.YMM - 1.2}, area.XMM-1.5-b.column.XMM, right, ys.label(v))
	}
	for _, v := range xs.ticks() {
		at := area.place(xs, ys, mgl64.Vec2{v, ys.ends[0]})
		b.rule(grid, at, point{at.XMM, at.YMM + 1})
		b.line(styleTick, point{at.XMM - 10, at.YMM + 1.5}, 20, centre, xs.label(v))
	}
	axis := stroke{ink: inkMuted, thickMM: 0.25}
	foot := area.YMM + area.HMM
	b.rule(axis, point{area.XMM, foot}, point{area.XMM + area.WMM, foot})
}

// plotMarks draws the reference lines; their names stand in the legend, with
// the letters that stand beside the lines.
func (b *book) plotMarks(p *Plot, area frame, xs, ys scale) {
	look := stroke{ink: inkText, thickMM: 0.3, dashMM: []float64{1, 1}}
	lane := lanes(p, ys, 2.6/area.HMM)
	for i, m := range p.Marks {
		from, to := point{area.XMM, 0}, point{area.XMM + area.WMM, 0}
		if m.Upright {
			x := area.XMM + area.WMM*xs.at(m.Place[0])
			from, to = point{x, area.YMM}, point{x, area.YMM + area.HMM}
		} else {
			y := area.YMM + area.HMM*(1-ys.at(m.Place[1]))
			from.YMM, to.YMM = y, y
		}
		b.rule(look, from, to)
		at := point{to.XMM + 0.8 + letterMM*float64(lane[i]), to.YMM - 1.3}
		if m.Upright {
			at = point{from.XMM - 0.9, from.YMM - 3.4}
		}
		b.line(styleCellB, at, 4, left, markLetter(i))
	}
}

// letterMM is the room that the letter of a reference line takes.
const letterMM = 2.4

// lanes tells how far to the right of the plot the letter of each reference line
// stands, 0 next to it, so that none covers another. apartShare is the height of a
// letter, as a share of the plot's.
func lanes(p *Plot, ys scale, apartShare float64) []int {
	out := make([]int, len(p.Marks))
	for i, m := range p.Marks {
		if m.Upright {
			continue
		}
		taken := func(lane int) bool {
			for k := range i {
				if !p.Marks[k].Upright && out[k] == lane && math.Abs(ys.at(p.Marks[k].Place[1])-ys.at(m.Place[1])) < apartShare {
					return true
				}
			}
			return false
		}
		for taken(out[i]) {
			out[i]++
		}
	}
	return out
}

// markLetter names the i-th reference line of a plot: a to z, then a2 and on.
func markLetter(i int) string {
	letter := string(rune('a' + i%26))
	if i >= 26 {
		letter += strconv.Itoa(i/26 + 1)
	}
	return letter
}

// legend names curves and reference lines below the plot, in two columns.
func (b *book) legend(p *Plot) {
	var rows [][]cell
	for i, l := range p.Lines {
		look := lineLooks[i%len(lineLooks)]
		rows = append(rows, []cell{{draw: func(f frame) {
			y := f.YMM + 1.5
			b.rule(look, point{f.XMM, y}, point{f.XMM + f.WMM, y})
		}}, text(l.Name)})
	}
	for i, m := range p.Marks {
		rows = append(rows, []cell{strong(markLetter(i)), text(m.Name)})
	}
	b.plainRows([]column{{widthMM: 16}, {share: 1}}, rows)
}

// plainRows prints rows without heads and rules.
func (b *book) plainRows(columns []column, rows [][]cell) {
	widthsMM := b.columnWidths(columns)
	for _, row := range rows {
		lines := b.rowLines(columns, widthsMM, row)
		b.need(tallestMM(lines))
		x := b.column.XMM
		for i, cellLines := range lines {
			y := b.yMM
			for _, l := range cellLines {
				b.cellLine(l, frame{x + padXMM, y, widthsMM[i] - 2*padXMM, l.heightMM()}, columns[i].align)
				y += l.heightMM()
			}
			x += widthsMM[i]
		}
		b.yMM += tallestMM(lines)
	}
}
