package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/thermal"
)

// What the picture of the heat page can show. Read-only.
var heatPictures = []string{"temperature", "irradiation"}

// Heat is the page of "What gets hot?".
type Heat struct {
	widget.BaseWidget
	host          Host
	says, detail  *widget.Label
	cases         *widget.Select
	picture       *widget.RadioGroup
	Grid          *Grid
	content       fyne.CanvasObject
	telling       bool
	state         *desk.State
	caution, more *widget.Label
}

// NewHeat returns the page.
func NewHeat(host Host) *Heat {
	p := &Heat{host: host, says: sentence(), detail: sentence()}
	p.detail.Hide()
	p.caution = sentence()
	p.caution.Text, p.caution.TextStyle = thermal.Caution, fyne.TextStyle{Bold: true}
	p.more = aside(desk.HeatCautions)
	p.cases = widget.NewSelect(nil, func(string) {
		if k := p.cases.SelectedIndex(); !p.telling && k >= 0 {
			host.Look(func(a *desk.Attention) { a.Case = k })
		}
	})
	p.picture = widget.NewRadioGroup(heatPictures, func(choice string) {
		if !p.telling {
			host.Look(func(a *desk.Attention) { a.Radiation = choice == heatPictures[1] })
		}
	})
	p.picture.Horizontal, p.picture.Required, p.picture.Selected = true, true, heatPictures[0]
	p.Grid = NewGrid("", func(row desk.Row) {
		host.Look(func(a *desk.Attention) { a.Select(row.Parts[0], false) })
		host.Fly(Flight{Parts: row.Parts})
	})
	top := container.NewVBox(heading("What gets hot?"), container.NewBorder(nil, nil, widget.NewLabel("Case"), p.picture, p.cases), p.caution, p.says)
	p.content = container.NewBorder(top, container.NewVBox(widget.NewSeparator(), p.detail, p.more), nil, nil, p.Grid)
	p.ExtendBaseWidget(p)
	return p
}

// Update shows a state.
func (p *Heat) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	p.telling = true
	names := desk.HeatCases(s)
	if !slices.Equal(p.cases.Options, names) {
		p.cases.SetOptions(names)
	}
	if a.Case < len(names) && p.cases.Selected != names[a.Case] {
		p.cases.SetSelectedIndex(a.Case)
	}
	if choice := heatPictures[0]; a.Radiation != (p.picture.Selected != choice) {
		p.picture.SetSelected(heatPictures[1-slices.Index(heatPictures, p.picture.Selected)])
	}
	p.telling = false
	say(p.says, desk.HeatSentence(s, a.Case))
	if r := s.Answers.Heat.Value; r != nil {
		p.Grid.SetTable(desk.HeatPage(r, a.Case))
	} else {
		p.Grid.SetTable(desk.Table{})
	}
	part := ""
	if len(a.Selected) > 0 {
		part = a.Selected[0]
	}
	p.Grid.Choose(part)
	say(p.detail, desk.HeatText(s, a.Case, part)...)
}

// CreateRenderer is the toolkit's.
func (p *Heat) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
