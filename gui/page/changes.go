package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Changes is the page of "What changed?".
type Changes struct {
	widget.BaseWidget
	host    Host
	told    told[listed]
	says    *widget.Label
	rest    *widget.Label
	detail  *widget.Label
	With    *widget.Button // asks what to compare with
	List    *Listing       // findings
	Grid    *Grid          // of List
	Parts   *Grid
	Others  *Grid // drop, rear view, heat
	content fyne.CanvasObject
	state   *desk.State
	listed  any // by idOf, as other
	other   any
}

// NewChanges returns the page.
func NewChanges(host Host) *Changes {
	p := &Changes{host: host, says: sentence(), rest: aside(""), detail: sentence()}
	p.detail.Hide()
	p.With = widget.NewButton(phrase.Of("Compare with…"), host.Compare)
	p.List = NewListing(host, "changes", func(row desk.Row) {
		host.Look(func(a *desk.Attention) { a.Finding, a.Selected = row.Key, nil })
		if flight, ok := findingFlight(p.state, row.Key); ok {
			host.Fly(flight)
		} else if len(row.Parts) > 0 {
			host.Fly(Flight{Parts: row.Parts})
		}
	})
	p.Parts = NewGrid(phrase.Of("No part changed."), func(row desk.Row) {
		host.Look(func(a *desk.Attention) { a.Select(row.Key, false) })
		if row.Key != "" {
			host.Fly(Flight{Parts: row.Parts})
		}
	})
	p.Others = NewGrid(phrase.Of("Drop, rear view and heat: no figure changed."), func(row desk.Row) {
		if row.Key != "" {
			host.Look(func(a *desk.Attention) { a.Select(row.Key, false) })
			host.Fly(Flight{Parts: row.Parts})
		}
	})
	p.Grid = p.List.Grid
	top := container.NewVBox(Border(nil, nil, nil, container.NewHBox(p.List.Find, hinted(host, p.With, phrase.Of("Choose the layout or revision to compare with"))), heading(phrase.Of("What changed?"))), p.says, p.rest)
	p.List.Head = top
	split := container.NewVSplit(p.List, container.NewVSplit(p.Parts, p.Others))
	p.content = Border(top, p.detail, nil, nil, split)
	p.told.lays = p.content
	p.ExtendBaseWidget(p)
	return p
}

// Update shows a state.
func (p *Changes) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	says, rest := desk.ChangesWords(s)
	was := p.says.Text + p.rest.Text
	say(p.says, says)
	say(p.rest, append([]string{rest}, desk.OutcomeWords(s)...)...)
	if was != p.says.Text+p.rest.Text {
		p.content.Refresh() // more lines want more room above the lists
	}
	enable(p.With, s.Open)
	if now := idOf(s.Answers.Changes.Value); s.Answers.Changes.Value == nil || now != p.listed {
		p.listed = now
		p.List.Fill(listed{of: now}, "", func() (desk.Table, string) { return desk.ChangesFindings(s), phrase.Of("No finding changed.") })
		p.Parts.SetTable(desk.ChangesParts(s))
	}
	if o := idOf(s.Answers.Outcomes.Value); s.Answers.Outcomes.Value == nil || o != p.other {
		p.other = o
		p.Others.SetTable(desk.ChangesOther(s))
	}
	p.Grid.Choose(a.Finding)
	finding := a.Finding
	p.told.ask(p.host, "changes", listed{of: idOf(s.Answers.Fit.Value), which: finding, seen: idOf(s.Answers.Changes.Value), drop: idOf(s.Doc)}, func() func() {
		detail := append(desk.ChangeText(s, finding), desk.FindingText(s, finding)...)
		return func() { say(p.detail, detail...) }
	})
}

// Leave is of every page.
func (p *Changes) Leave() { p.state = noState() }

// Step goes on in the list.
func (p *Changes) Step(by int) { p.Grid.Step(by) }

// CreateRenderer is the toolkit's.
func (p *Changes) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
