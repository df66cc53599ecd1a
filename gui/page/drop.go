package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/drop"
	"aftbay/gui/desk"
)

// Drop is the page of "How low can it go?".
type Drop struct {
	widget.BaseWidget
	says    *widget.Label
	notes   *widget.Label
	Bar     *DropBar
	Grid    *Grid
	charts  *fyne.Container
	content fyne.CanvasObject
	state   *desk.State
	drawn   struct {
		of *drop.Result
		at float64 // Bare numbers: mm
	}
}

// NewDrop returns the page.
func NewDrop(host Host) *Drop {
	p := &Drop{says: sentence(), notes: aside("")}
	p.Bar = NewDropBar(host)
	p.Grid = NewGrid("No limit is known.", func(row desk.Row) { p.choose(host, row) })
	p.charts = container.NewGridWithColumns(1)
	top := container.NewVBox(heading("How low can it go?"), p.says, p.Bar)
	split := container.NewVSplit(p.Grid, container.NewBorder(nil, p.notes, nil, nil, p.charts))
	split.SetOffset(0.42)
	p.content = container.NewBorder(top, nil, nil, nil, split)
	p.ExtendBaseWidget(p)
	return p
}

// choose shows what a limit speaks of.
func (p *Drop) choose(host Host, row desk.Row) {
	finding, part := desk.LimitOf(p.state, row.Key)
	host.Look(func(a *desk.Attention) {
		a.Select(part, false)
		a.Finding = finding
	})
	if flight, ok := findingFlight(p.state, finding); ok {
		host.Fly(flight)
	} else if part != "" {
		host.Fly(Flight{Parts: []string{part}})
	}
}

// Update shows a state.
func (p *Drop) Update(s *desk.State, _ *desk.Attention) {
	p.state = s
	says, notes := desk.DropWords(s)
	say(p.says, says)
	say(p.notes, notes...)
	p.Bar.Update(s)
	if r := s.Answers.Drop.Value; r != nil {
		p.Grid.SetTable(desk.DropPage(r))
	} else {
		p.Grid.SetTable(desk.Table{})
	}
	p.draw(s)
}

// draw makes the charts anew if they show something else.
func (p *Drop) draw(s *desk.State) {
	if p.drawn.of == s.Answers.Drop.Value && p.drawn.at == s.DropMM {
		return
	}
	p.drawn.of, p.drawn.at = s.Answers.Drop.Value, s.DropMM
	charts := desk.DropCharts(s)
	for len(p.charts.Objects) > len(charts) {
		p.charts.Remove(p.charts.Objects[len(charts)])
	}
	for i, c := range charts {
		if i == len(p.charts.Objects) {
			p.charts.Add(NewChart())
		}
		p.charts.Objects[i].(*Chart).SetChart(c)
	}
}

// CreateRenderer is the toolkit's.
func (p *Drop) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
