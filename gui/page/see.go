package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// See is the page of "Can the driver see?".
type See struct {
	widget.BaseWidget
	host    Host
	says    *widget.Label
	detail  *widget.Label
	Grid    *Grid
	content fyne.CanvasObject
	state   *desk.State
}

// NewSee returns the page.
func NewSee(host Host) *See {
	p := &See{host: host, says: sentence(), detail: sentence()}
	p.detail.Hide()
	p.Grid = NewGrid("", func(row desk.Row) {
		host.Look(func(a *desk.Attention) { a.Finding, a.Selected = row.Key, nil })
		if flight, ok := findingFlight(p.state, row.Key); ok {
			host.Fly(flight)
		}
	})
	p.content = container.NewBorder(container.NewVBox(heading("Can the driver see?"), p.says), p.detail, nil, nil, p.Grid)
	p.ExtendBaseWidget(p)
	return p
}

// Update shows a state.
func (p *See) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	table, says := desk.SightPage(s)
	say(p.says, says...)
	p.Grid.SetTable(table)
	p.Grid.Choose(a.Finding)
	say(p.detail, desk.FindingText(s, a.Finding)...)
}

// CreateRenderer is the toolkit's.
func (p *See) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
