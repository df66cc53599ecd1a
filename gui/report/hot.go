package report

import (
	"fmt"
	"math"
	"slices"
)

// heat prints what gets hot, case by case. The estimate sentence heads each page.
func (b *book) heat() {
	h := b.m.Heat
	if h == nil {
		return
	}
	b.chapter("What gets hot?", heatHead)
	b.paragraph(style{faceBold, 4, inkText}, h.Sentence)
	b.paragraph(styleBody, h.Validation)
	b.heatWarnings(h)
	for i := range h.Cases {
		b.heatCase(&h.Cases[i])
	}
	b.shields(h.Shields)
}

// heatCase prints the tables, field pictures and curves of one case.
func (b *book) heatCase(c *HeatCase) {
	b.sub("Case: " + c.Name)
	b.paragraph(styleBody, c.Conditions)
	if c.BalanceW != nil {
		b.paragraph(styleSmall, "The energy balance leaves "+withUnit(c.BalanceW, 2, "W")+" over.")
	}
	b.gap(1.5)
	b.heatTable(c)
	if c.Left > 0 {
		b.caption(fmt.Sprintf("%d more parts pass or have no limit; the command heat lists all.", c.Left))
	}
	b.heatWays(c)
	for _, p := range c.Plots {
		b.plot(&p, 74, Estimate)
	}
	b.pair(c.Picture, c.Irradiation)
}

// pair places two pictures of heat beside each other, or the one there is.
func (b *book) pair(one, other *Picture) {
	const highMM, betweenMM, wordsMM = 96, 6, 14
	if b.web != nil || one == nil || other == nil {
		b.show(one, 125, Estimate)
		b.show(other, 125, Estimate)
		return
	}
	b.need(highMM + wordsMM)
	top, halfMM := b.yMM, (b.bodyMM()-betweenMM)/2
	b.column = frame{XMM: sideMM, WMM: halfMM}
	b.show(one, highMM, Estimate)
	lower := b.yMM
	b.yMM = top
	b.column.XMM += halfMM + betweenMM
	b.show(other, highMM, Estimate)
	b.yMM = max(b.yMM, lower)
	b.full()
}

// heatWays prints how the parts nearest to their limit take heat.
func (b *book) heatWays(c *HeatCase) {
	if len(c.Ways) == 0 {
		return
	}
	number := func(head string) column { return column{head: head, align: right, widthMM: 22} }
	var rows [][]cell
	for i := range c.Ways {
		w := &c.Ways[i]
		row := []cell{strong(w.Part)}
		for _, flowW := range []float64{w.DirectW, w.ReflectedW, w.AirW, w.ContactW, w.OwnW, w.SentW} {
			row = append(row, text(shown(&flowW, wattDecimals)))
		}
		rows = append(rows, append(row, text(w.LeastSure)))
	}
	b.sub("How heat comes and goes, W")
	b.table([]column{
		{head: "Part", share: 1},
		number("Radiation, direct"), number("Radiation, reflected"), number("Air"), number("Contact"), number("Own power"),
		number("Sent out"),
		{head: "The band is widest from", share: 1.3},
	}, rows)
}

// heatWarnings prints what could hurt somebody.
func (b *book) heatWarnings(h *Heat) {
	if len(h.Warnings) == 0 {
		return
	}
	b.sub("What to look at before anybody is hurt")
	var rows [][]cell
	for _, w := range h.Warnings {
		rows = append(rows, []cell{text(w.Text), {spans: []span{{style: styleCellM, text: w.Source}}}})
	}
	b.table([]column{{head: "Warning", share: 2.2}, {head: "Source", share: 1}}, rows)
	b.caption("Reminders, no verdicts: defer to local codes and qualified people.")
}

// hasHeat tells whether the model shows heat figures.
func hasHeat(m *Model) bool { return m.Heat != nil || len(m.Spots) > 0 }

// heatTable prints the parts of a case with their bands.
func (b *book) heatTable(c *HeatCase) {
	if len(c.Rows) == 0 {
		b.paragraph(styleBody, "No part was computed in this case.")
		return
	}
	lowest, highest := bandScale(c)
	number := func(head string) column { return column{head: head, align: right, widthMM: 13} }
	columns := []column{
		{head: "Part, role", share: 1.1},
		number("Low °C"), number("Nominal °C"), number("High °C"),
		{head: "Band (line) and limit (upright), " + plain(lowest, 0) + " to " + plain(highest, 0) + " °C", widthMM: 38},
		number("Limit °C"), number("Margin of high K"),
		{head: "Verdict", widthMM: 18},
		{head: "Main sources of heat", share: 1.3},
		{head: "Source of the limit", share: 1.7},
	}
	timed := false
	for i := range c.Rows {
		timed = timed || c.Rows[i].PeakTimeS != nil
	}
	if timed {
		columns = append(columns, column{head: "Peak at min", align: right, widthMM: 14}, column{head: "High above limit min", align: right, widthMM: 14})
	}
	var rows [][]cell
	for i := range c.Rows {
		rows = append(rows, b.heatCells(&c.Rows[i], lowest, highest, timed))
	}
	b.table(columns, rows)
}

// bandScale returns round ends for the bands of a case, °C: those of the parts
// that have a limit, or of all where none has. Hotter bands end at the end.
func bandScale(c *HeatCase) (lowDegC, highDegC float64) {
	judged := slices.ContainsFunc(c.Rows, func(r HeatRow) bool { return r.LimitDegC != nil })
	lowDegC, highDegC = math.Inf(1), math.Inf(-1)
	for i := range c.Rows {
		r := &c.Rows[i]
		if judged && r.LimitDegC == nil {
			continue
		}
		lowDegC, highDegC = min(lowDegC, r.LowDegC), max(highDegC, r.HighDegC)
		if r.LimitDegC != nil {
			lowDegC, highDegC = min(lowDegC, *r.LimitDegC), max(highDegC, *r.LimitDegC)
		}
	}
	const roundDegC = 50
	lowDegC = math.Floor(lowDegC/roundDegC) * roundDegC
	highDegC = math.Ceil(highDegC/roundDegC) * roundDegC
	if highDegC == lowDegC {
		highDegC += roundDegC
	}
	return lowDegC, highDegC
}

// heatCells is one row of the heat table.
func (b *book) heatCells(r *HeatRow, lowDegC, highDegC float64, timed bool) []cell {
	from := ""
	for i, s := range r.From {
		if i > 0 {
			from += ", "
		}
		from += s.Part + " " + percent(s.Ratio)
	}
	if from == "" {
		from = unknown
	}
	row := []cell{
		stacked(span{style: styleCellB, text: r.Part}, span{style: styleCellM, text: r.Role}),
		text(shown(&r.LowDegC, tempDecimals)), strong(shown(&r.NominalDegC, tempDecimals)), text(shown(&r.HighDegC, tempDecimals)),
		{draw: b.bandDrawer(r, lowDegC, highDegC), svg: bandSVG(r, lowDegC, highDegC)},
		text(shown(r.LimitDegC, tempDecimals)), strong(shown(r.HighMarginK, tempDecimals)), judged(r.Verdict),
		text(from),
		stacked(span{style: styleCellM, text: r.LimitSource}, span{style: styleCellB, text: badge(r.Habit)}),
	}
	if timed {
		row = append(row, text(minutes(r.PeakTimeS)), text(minutes(r.AboveLimitS)))
	}
	return row
}

// minutes prints a time of seconds in minutes.
func minutes(timeS *float64) string {
	if timeS == nil {
		return unknown
	}
	timeMin := *timeS / 60
	return shown(&timeMin, minuteDecimals)
}

// bandDrawer draws a part's band from low to high, its nominal and its limit.
func (b *book) bandDrawer(r *HeatRow, lowDegC, highDegC float64) func(f frame) {
	return func(f frame) {
		at := func(degC float64) float64 {
			return f.XMM + f.WMM*max(0, min(1, (degC-lowDegC)/(highDegC-lowDegC)))
		}
		y := f.YMM + 1.6
		b.rule(stroke{ink: inkLine, thickMM: 0.15}, point{f.XMM, y}, point{f.XMM + f.WMM, y})
		if r.LowDegC > highDegC { // a source, hotter than the scale
			return
		}
		b.fill(frame{at(r.LowDegC), y - 0.6, max(at(r.HighDegC)-at(r.LowDegC), 0.3), 1.2}, inkBar)
		b.fill(frame{at(r.NominalDegC) - 0.4, y - 1, 0.8, 2}, inkAccent)
		if r.LimitDegC != nil {
			x := at(*r.LimitDegC)
			b.rule(stroke{ink: inkText, thickMM: 0.4}, point{x, y - 1.7}, point{x, y + 1.7})
		}
	}
}
