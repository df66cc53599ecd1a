package page

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Fit is the page of "Does it fit?": the findings, and all about the chosen one:
// how its gap is used up, the section through it, its source, the decision.
type Fit struct {
	widget.BaseWidget
	host    Host
	says    *widget.Label
	counts  *widget.Label
	detail  *widget.Label
	filter  *widget.Select
	Budget  *Sum // of the chosen finding
	Decides *Decision
	Section *still
	List    *Listing
	Grid    *Grid // of List
	split   *container.Split
	content fyne.CanvasObject
	state   *desk.State
	painter *desk.Painter // of the section, used beside
	drawn   told[listed]
	told    told[fitOf]
	tells   bool
}

// listed tells what a list or picture shows, by idOf, so that it is made anew
// only when that changes.
type listed struct {
	of, heat, drop, seen, spots any
	which                       string
}

// sectionSize is how large the section of the page is made, in pixels.
const sectionWide, sectionTall, sectionLetters = 760, 380, 19

// NewFit returns the page.
func NewFit(host Host) *Fit {
	p := &Fit{host: host, says: sentence(), counts: aside(""), detail: sentence(), Budget: NewSum(), Decides: NewDecision(host), painter: desk.NewPainter()}
	p.detail.Hide()
	p.List = NewListing(host, "fit", p.choose)
	p.Grid = p.List.Grid
	p.filter = widget.NewSelect(desk.FitFilters, func(string) { p.fill("") })
	p.filter.Selected = desk.FitFilters[1]
	p.Section = newStill(phrase.Of("Section through the narrowest place"), sectionHigh)
	top := container.NewVBox(Border(nil, nil, nil, container.NewHBox(p.List.Find, container.New(roomOf(21), p.filter)), heading(phrase.Of("Does it fit?"))), p.says)
	p.List.Head = top
	lower := container.NewVScroll(container.NewVBox(p.Budget, p.Section.all, p.detail, p.Decides))
	p.split = container.NewVSplit(p.List, lower)
	p.split.SetOffset(1)
	p.content = Border(top, p.counts, nil, nil, p.split)
	p.told.lays = p.content
	p.ExtendBaseWidget(p)
	return p
}

func (p *Fit) choose(row desk.Row) {
	if c, ok := desk.ConcernOf(p.state, row.Key); ok && c.Page != desk.Fits {
		p.host.Look(func(a *desk.Attention) { desk.LookAtConcern(a, &c) })
		if len(c.Parts) > 0 {
			p.host.Fly(Flight{Parts: c.Parts})
		}
		return
	}
	p.host.Look(func(a *desk.Attention) { a.Finding, a.Selected = row.Key, nil })
	if flight, ok := findingFlight(p.state, row.Key); ok {
		p.host.Fly(flight)
	}
}

// Leave is of every page.
func (p *Fit) Leave() { p.state, p.painter = noState(), desk.NewPainter() }

// Step goes on in the list.
func (p *Fit) Step(by int) { p.Grid.Step(by) }

// findingFlight returns the way to the narrowest place of a finding.
func findingFlight(s *desk.State, id string) (f Flight, ok bool) {
	f.From, f.To, f.SizeMM, ok = desk.FindingView(s, id)
	return f, ok
}

// fitOf is what the words of the page are of.
type fitOf struct {
	fit, doc                  any // by idOf
	fresh                     bool
	err                       error
	finding, selected, status string
}

// Update shows a state.
func (p *Fit) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	selected := ""
	if len(a.Selected) > 0 {
		selected = a.Selected[0]
	}
	p.fill(selected)
	p.Grid.Choose(a.Finding)
	f := &s.Answers.Fit
	of := fitOf{fit: idOf(f.Value), fresh: f.Fresh, err: f.Err, doc: idOf(s.Doc), finding: a.Finding, selected: selected}
	if f.Value == nil {
		of.status = s.Status
	}
	at := a.Clone()
	p.told.ask(p.host, "fit", of, func() func() {
		says, counts := desk.FitWords(s)
		budget, has := desk.BudgetTable(s, at.Finding), desk.HasFinding(s, at.Finding)
		detail := append(desk.FindingText(s, at.Finding), desk.PartFitText(s, &at)...)
		return func() {
			say(p.says, says)
			say(p.counts, counts)
			p.Budget.SetTable(budget)
			say(p.detail, detail...)
			p.Decides.Update(s, at.Finding, has)
			p.draw(s, at.Finding, has)
			p.share()
		}
	})
}

// share gives the lower half room when a finding is chosen. A split that was
// moved by hand stays until then.
func (p *Fit) share() {
	tells := !p.Decides.Hidden
	if tells == p.tells {
		return
	}
	if p.tells = tells; tells {
		p.split.SetOffset(toldShareNow())
	} else {
		p.split.SetOffset(1)
	}
}

// Turn goes on to another choice of findings.
func (p *Fit) Turn(by int) {
	p.filter.SetSelectedIndex(around(p.filter.SelectedIndex(), by, len(p.filter.Options)))
}

// draw makes the section beside if it would be another.
func (p *Fit) draw(s *desk.State, finding string, has bool) {
	if !has || large() { // on a wall the scene shows it
		p.Section.show(nil)
		p.drawn = told[listed]{}
		return
	}
	painter, dark := p.painter, inDark()
	p.drawn.ask(p.host, "section", listed{of: idOf(s.Answers.Fit.Value), drop: idOf(s.Scene), which: finding + map[bool]string{true: " dark"}[dark]}, func() func() {
		still, err := painter.SectionStill(context.Background(), s, finding, desk.StillSize{WPx: sectionWide, HPx: sectionTall, TextPx: sectionLetters, Workers: 1, Dark: dark})
		if err != nil || still == nil {
			return nil
		}
		return func() {
			p.Section.show(still.Image)
			relay(p.content)
		}
	})
}

// fill lists the findings that the filter lets through.
func (p *Fit) fill(selected string) {
	if p.state == nil {
		return
	}
	s, filter := p.state, p.filter.Selected
	now := listed{of: idOf(s.Answers.Fit.Value), which: filter}
	if filter == desk.FitFilters[3] {
		a := &s.Answers
		now.heat, now.drop, now.seen, now.spots = idOf(a.Heat.Value), idOf(a.Drop.Value), idOf(a.Seen.Value), idOf(a.Spots.Value)
	}
	p.List.Fill(now, selected, func() (desk.Table, string) { return desk.FitList(s, filter) })
}

// Keys returns the findings that are listed, in their order.
func (p *Fit) Keys() []string { return p.List.Keys() }

// CreateRenderer is the toolkit's.
func (p *Fit) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
