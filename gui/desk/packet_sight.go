package desk

import (
	"image"

	"aftbay/gui/phrase"
	"aftbay/gui/report"
)

// keptRows is how many parts near a keep-out solid are listed, nearest first.
const keptRows = 8

// sight tells what the driver sees: the same rows and pictures as the page.
func (b *packer) sight(m *report.Model) error {
	t, sentences, notes := SightPage(b.s)
	v := &report.RearView{Sentence: sentences[0], Notes: append(append(sentences[1:], SightMore(b.s)...), notes...)}
	if rv := b.s.Doc.RearView; rv != nil {
		v.Requirement = rv.Requirement
	}
	kept := 0
	for _, row := range t.Rows {
		if len(row.Parts) == 2 { // of a keep-out solid
			if kept++; kept > keptRows {
				continue
			}
		}
		c := row.Cells // in the order of the page's columns
		v.Rows = append(v.Rows, report.RearRow{What: c[0], Seen: c[1], Lost: c[2], NoLoss: c[3], Allowed: c[4], Margin: c[5], Verdict: verdictOf(row.Verdict)})
	}
	if more := kept - keptRows; more > 0 {
		v.Notes = append([]string{phrase.F("%d more parts are checked against the keep-out solid; all stand farther off.", more)}, v.Notes...)
	}
	seen := b.s.Answers.Seen.Value
	switch {
	case seen == nil || seen.Result == nil:
		m.Unchecked = append(m.Unchecked, report.Unchecked{What: phrase.Of("Can the driver see?"), Reason: sentences[0]})
	default:
		add := func(name, caption string, img *image.RGBA) {
			v.Pictures = append(v.Pictures, b.keep(name, img, caption))
		}
		add("rear-view-left", EyeNames[0]+phrase.Of(". Frame: the prescribed field; tinted: hidden."), seen.Mirror[0])
		add("rear-view-right", EyeNames[1]+phrase.Of(". Frame: the prescribed field; tinted: hidden."), seen.Mirror[1])
		add("rear-view-section", phrase.Of("Lines of sight from the left, the car cut along its middle."), seen.Section)
	}
	m.RearView = v
	return nil
}
