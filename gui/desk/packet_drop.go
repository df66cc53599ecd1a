package desk

import (
	"slices"
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/drop"
	"aftbay/gui/phrase"
	"aftbay/gui/report"
)

// drop tells how low the powertrain can go, from the same tables and plots as
// the window.
func (b *packer) drop(m *report.Model) error {
	r := b.s.Answers.Drop.Value
	if r == nil {
		return nil
	}
	d := &report.Drop{Sentence: DropSentence(r), Notes: append(otherWindows(r), phrase.All(r.Notes)...)}
	if w := r.WindowMM; w != nil {
		d.LeastMM, d.MostMM = &w[0], &w[1]
	}
	for _, l := range r.Limits {
		if !telling(l, r) {
			continue
		}
		row := report.DropLimit{
			Name: phrase.Say(l.Name), MostMM: l.MostMM, Detail: phrase.Of("holds at ") + windowsText(l.WindowsMM), Source: phrase.Say(l.Source),
			Habit: clearance.IsHabit(l.Source.String()), Verdict: report.OK,
			Binding: r.Binding.High != nil && r.Binding.High.Limit.String() == l.Name.String() || r.Binding.Low != nil && r.Binding.Low.Limit.String() == l.Name.String(),
		}
		if !holdsAt(l.WindowsMM, b.s.DropMM) {
			row.Verdict = report.Short
		}
		d.Limits = append(d.Limits, row)
	}
	for _, c := range DropCharts(b.s) {
		d.Plots = append(d.Plots, plotOf(c))
	}
	buys, swaps := BuysPage(b.s)
	for _, t := range []Table{buys, swaps, MassTable(&r.Mass)} {
		if len(t.Rows) > 0 {
			d.Tables = append(d.Tables, figuresOf(t))
		}
	}
	if a := &b.s.Answers.Map; a.Value != nil && a.Fresh {
		t := mapThatHolds(MapTable(a.Value))
		d.Tables = append(d.Tables, figuresOf(t))
		d.Map = b.keep("drop-map", MapPicture(a.Value, mapCellPx), mapCaption(a.Value))
	}
	m.Drop = d
	return nil
}

// mapCellPx is the size of a place of the map in the report.
const mapCellPx = 12

// figuresOf hands a table over to the report.
func figuresOf(t Table) report.Figures {
	f := report.Figures{Title: t.Title, Foot: t.Foot}
	for _, c := range t.Columns {
		f.Heads = append(f.Heads, report.Head{Text: capital(headWords(c.Head)), Number: c.Right})
	}
	for _, r := range t.Rows {
		f.Rows = append(f.Rows, r.Cells)
	}
	return f
}

// mapThatHolds is the table of the map without the shifts at which no drop
// holds; the foot counts them.
func mapThatHolds(t Table) Table {
	all := len(t.Rows)
	t.Rows = slices.DeleteFunc(t.Rows, func(r Row) bool { return r.Verdict != drop.OK })
	if left := all - len(t.Rows); left > 0 {
		t.Foot = append([]string{phrase.F("%d more shifts are not listed: at them no drop holds.", left)}, t.Foot...)
	}
	return t
}

// headWords is the head of a table file's column as it is printed: the unit apart.
func headWords(head string) string {
	for _, unit := range [][2]string{{"_mm", " mm"}, {"_degC", " °C"}, {"_K", " K"}, {"_kg", " kg"}, {"_deg", " °"}} {
		if rest, has := strings.CutSuffix(head, unit[0]); has {
			return strings.ReplaceAll(rest, "_", " ") + unit[1]
		}
	}
	return strings.ReplaceAll(head, "_", " ")
}

// otherWindows says that there are windows besides the one that is spoken of.
func otherWindows(r *drop.Result) []string {
	if len(r.WindowsMM) < 2 {
		return nil
	}
	return []string{phrase.Of("Everything holds at ") + windowsText(r.WindowsMM) + phrase.Of(" mm: several windows.")}
}
