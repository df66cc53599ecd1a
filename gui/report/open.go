package report

import "strings"

// openItems prints what reviews before have left to do: the first thing that the
// next one looks at.
func (b *book) openItems() {
	if len(b.m.OpenItems) == 0 {
		return
	}
	b.chapter("Open items", "")
	var rows [][]cell
	for i := range b.m.OpenItems {
		o := &b.m.OpenItems[i]
		rows = append(rows, []cell{strong(o.What), text(o.Owner), strong(o.Due), stacked(span{style: styleCell, text: o.Notes}, span{style: styleCellM, text: strings.Join(o.History, "\n")}), text(o.Now), judged(o.Verdict)})
	}
	b.table([]column{
		{head: "Finding", share: 1.4},
		{head: "Owner", share: 0.7},
		{head: "Due", widthMM: 24},
		{head: "Notes, history", share: 1.8},
		{head: "Now", share: 0.8},
		{head: "Verdict now", widthMM: 24},
	}, rows)
}
