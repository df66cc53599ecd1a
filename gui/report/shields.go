package report

import (
	"fmt"
	"strings"
)

// shields prints what the shields of the layout would do.
func (b *book) shields(list []Shield) {
	if len(list) == 0 {
		return
	}
	b.sub("What would a shield do?")
	b.paragraph(styleSmall, "Each is tried alone, in the whole scene. A shield that runs hot is itself a source.")
	number := func(head string) column { return column{head: head, align: right, widthMM: 17} }
	for i := range list {
		s := &list[i]
		b.paragraph(styleBody, s.Sentence)
		b.gap(1.5)
		var rows [][]cell
		for k := range s.Rows {
			r := &s.Rows[k]
			beforeKWM2, afterKWM2 := r.BeforeWM2/1000, r.AfterWM2/1000
			rows = append(rows, []cell{
				strong(r.Part), text(r.Case), text(shown(&r.BeforeDegC, tempDecimals)), text(shown(&r.AfterDegC, tempDecimals)), strong(fmt.Sprintf("%+.0f", r.ByK)),
				text(shown(&r.HighBeforeDegC, tempDecimals)), text(shown(&r.HighAfterDegC, tempDecimals)),
				text(shown(&beforeKWM2, 2)), text(shown(&afterKWM2, 2)), judged(r.BeforeVerdict), judged(r.Verdict),
			})
		}
		b.table([]column{
			{head: "Part", share: 1},
			{head: "Case", share: 1},
			number("Without °C"), number("With °C"), number("Change K"), number("High without °C"), number("High with °C"),
			number("Without kW/m²"), number("With kW/m²"),
			{head: "Without", widthMM: 18},
			{head: "With", widthMM: 18},
		}, rows)
		if s.Left > 0 {
			b.caption(fmt.Sprintf("%d more figures change less; the command heat --shields lists all.", s.Left))
		}
		if len(s.Assumed) > 0 {
			b.paragraph(styleBody, "Assumed: "+strings.Join(s.Assumed, "; ")+".")
		}
	}
}
