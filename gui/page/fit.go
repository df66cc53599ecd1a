package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/clearance"
	"aftbay/gui/desk"
)

// Fit is the page of "Does it fit?".
type Fit struct {
	widget.BaseWidget
	host    Host
	says    *widget.Label
	counts  *widget.Label
	detail  *widget.Label
	filter  *widget.RadioGroup
	Budget  *Sum // of the chosen finding
	Decides *Decision
	Grid    *Grid
	content fyne.CanvasObject
	state   *desk.State
	listed  listed
}

// listed tells what a list shows, so that it is made anew only when that
// changes: it takes milliseconds for thousands of findings.
type listed struct {
	of     *clearance.Result
	filter string
}

// NewFit returns the page.
func NewFit(host Host) *Fit {
	p := &Fit{host: host, says: sentence(), counts: aside(""), detail: sentence(), Budget: NewSum(), Decides: NewDecision(host)}
	p.detail.Hide()
	p.Grid = NewGrid("", p.choose)
	p.filter = widget.NewRadioGroup(desk.FitFilters, func(string) { p.fill() })
	p.filter.Horizontal, p.filter.Required, p.filter.Selected = true, true, desk.FitFilters[1]
	top := container.NewVBox(heading("Does it fit?"), p.says, p.filter)
	bottom := container.NewVBox(widget.NewSeparator(), p.Budget, p.detail, p.Decides, p.counts)
	p.content = container.NewBorder(top, bottom, nil, nil, p.Grid)
	p.ExtendBaseWidget(p)
	return p
}

func (p *Fit) choose(row desk.Row) {
	p.host.Look(func(a *desk.Attention) { a.Finding, a.Selected = row.Key, nil })
	if flight, ok := findingFlight(p.state, row.Key); ok {
		p.host.Fly(flight)
	}
}

// findingFlight returns the way to the narrowest place of a finding.
func findingFlight(s *desk.State, id string) (f Flight, ok bool) {
	f.From, f.To, f.SizeMM, ok = desk.FindingView(s, id)
	return f, ok
}

// Update shows a state.
func (p *Fit) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	says, counts := desk.FitWords(s)
	say(p.says, says)
	say(p.counts, counts)
	p.fill()
	p.Grid.Choose(a.Finding)
	p.Budget.SetTable(desk.BudgetTable(s, a.Finding))
	say(p.detail, desk.FindingText(s, a.Finding)...)
	p.Decides.Update(s, a.Finding)
}

// Keys returns the findings that are listed, in their order.
func (p *Fit) Keys() (keys []string) {
	for _, row := range p.Grid.Rows() {
		keys = append(keys, row.Key)
	}
	return keys
}

func (p *Fit) fill() {
	if p.state == nil {
		return
	}
	now := listed{p.state.Answers.Fit.Value, p.filter.Selected}
	if now.of != nil && now == p.listed {
		return
	}
	p.listed = now
	table, empty := desk.FitList(p.state, p.filter.Selected)
	p.Grid.SetEmpty(empty)
	p.Grid.SetTable(table)
}

// CreateRenderer is the toolkit's.
func (p *Fit) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
