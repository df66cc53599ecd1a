package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// heatPart tells all about one part in a heat case: its band, its sources, its
// ways of heat.
type heatPart struct {
	widget.BaseWidget
	says, others, hint *widget.Label
	fromHead, waysHead *widget.Label
	band               *Band
	from, ways         *Bars
	all                *fyne.Container
}

// newHeatPart returns an empty one; a tap on a source goes to choose.
func newHeatPart(choose func(part string)) *heatPart {
	p := &heatPart{says: sentence(), others: aside(""), band: NewBand(), ways: NewBars(nil)}
	p.hint = aside(phrase.Of("Choose a part, in the list or in the scene, to see its band, what heats it and what a shield would do."))
	p.from = NewBars(func(b desk.Bar) { choose(b.Part) })
	p.fromHead = aside(phrase.Of("Radiation on it comes from (straight, then thrown back by others):"))
	p.waysHead = aside(phrase.Of("It takes heat by:"))
	p.all = container.NewVBox(p.says, container.NewPadded(p.band), p.fromHead, container.NewPadded(p.from), p.waysHead, container.NewPadded(p.ways), p.others)
	p.all.Hide()
	p.ExtendBaseWidget(p)
	return p
}

// Update shows a part, nil for none.
func (p *heatPart) Update(part *desk.HeatPart) {
	if p.all.Hidden != (part == nil) {
		p.all.Hidden, p.hint.Hidden = part == nil, part != nil
		p.Refresh()
	}
	if part == nil {
		return
	}
	say(p.says, part.Says...)
	say(p.others, part.Others...)
	p.band.SetBand(part.Band)
	p.from.SetBars(part.From)
	p.ways.SetBars(part.Ways)
	p.fromHead.Hidden, p.waysHead.Hidden = len(part.From) == 0, len(part.Ways) == 0
}

// CreateRenderer is the toolkit's.
func (p *heatPart) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewVBox(p.hint, p.all))
}
