package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Changes is the page of "What changed?".
type Changes struct {
	widget.BaseWidget
	says    *widget.Label
	detail  *widget.Label
	Grid    *Grid
	content fyne.CanvasObject
	state   *desk.State
	listed  listed
}

// NewChanges returns the page.
func NewChanges(host Host) *Changes {
	p := &Changes{says: sentence(), detail: sentence()}
	p.detail.Hide()
	p.Grid = NewGrid("", func(row desk.Row) {
		host.Look(func(a *desk.Attention) { a.Finding, a.Selected = row.Key, nil })
		if flight, ok := findingFlight(p.state, row.Key); ok {
			host.Fly(flight)
		}
	})
	p.content = container.NewBorder(container.NewVBox(heading("What changed?"), p.says), p.detail, nil, nil, p.Grid)
	p.ExtendBaseWidget(p)
	return p
}

// Update shows a state.
func (p *Changes) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	if now := (listed{of: s.Answers.Fit.Value}); now.of == nil || s.Opened == nil || now != p.listed {
		p.listed = now
		table, says := desk.ChangesPage(s)
		say(p.says, says)
		p.Grid.SetTable(table)
	}
	p.Grid.Choose(a.Finding)
	say(p.detail, desk.FindingText(s, a.Finding)...)
}

// CreateRenderer is the toolkit's.
func (p *Changes) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
