package desk

import (
	"image"

	"aftbay/gui/report"
)

// sight tells what the driver sees: the same rows and pictures as the page.
func (b *packer) sight(m *report.Model) error {
	t, sentences, notes := SightPage(b.s)
	v := &report.RearView{Sentence: sentences[0], Notes: append(append(sentences[1:], SightMore(b.s)...), notes...)}
	if rv := b.s.Doc.RearView; rv != nil {
		v.Requirement = rv.Requirement
	}
	for _, row := range t.Rows {
		out := report.RearRow{What: row.Cells[0], Seen: row.Cells[1], Lost: row.Cells[2], Allowed: row.Cells[3], Margin: row.Cells[4], Verdict: verdictOf(row.Verdict)}
		v.Rows = append(v.Rows, out)
	}
	seen := b.s.Answers.Seen.Value
	switch {
	case seen == nil || seen.Result == nil:
		m.Unchecked = append(m.Unchecked, report.Unchecked{What: "Can the driver see?", Reason: sentences[0]})
	default:
		add := func(name, caption string, img *image.RGBA) {
			v.Pictures = append(v.Pictures, &report.Picture{Name: name, Image: img, Caption: caption})
		}
		add("rear-view-left", EyeNames[0]+". Frame: the prescribed field; tinted: hidden.", seen.Mirror[0])
		add("rear-view-right", EyeNames[1]+". Frame: the prescribed field; tinted: hidden.", seen.Mirror[1])
		add("rear-view-section", "Lines of sight from the left, the car cut along its middle.", seen.Section)
	}
	m.RearView = v
	return nil
}
