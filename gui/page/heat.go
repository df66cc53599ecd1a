package page

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Heat is the page of "What gets hot?": the parts of a case, and below them all
// about the chosen one.
type Heat struct {
	widget.BaseWidget
	host           Host
	says           *widget.Label
	cases, picture *widget.Select
	caution, more  *widget.Label
	warns          *widget.Label
	List           *Listing
	Grid           *Grid // of List
	Part           *heatPart
	Shield         *shieldForm
	Shields        *layoutShields
	Soak           *Soak
	Decides        *Decision
	split          *container.Split
	veil           *Veil
	content        fyne.CanvasObject
	telling, tells bool
}

// NewHeat returns the page.
func NewHeat(host Host) *Heat {
	p := &Heat{host: host, says: sentence()}
	p.caution = sentence()
	p.caution.Text, p.caution.TextStyle, p.caution.SizeName = desk.HeatCaution, fyne.TextStyle{Bold: true}, fynetheme.SizeNameCaptionText
	p.more = aside(desk.HeatCautions)
	p.warns = sentence()
	p.warns.SizeName, p.warns.Importance = fynetheme.SizeNameCaptionText, widget.WarningImportance
	p.cases = widget.NewSelect(nil, func(string) {
		if k := p.cases.SelectedIndex(); !p.telling && k >= 0 {
			host.Look(func(a *desk.Attention) { a.Case, a.Timed, a.TimeS = k, false, 0 })
		}
	})
	p.picture = widget.NewSelect(desk.HeatPictures, func(string) {
		if k := p.picture.SelectedIndex(); !p.telling && k >= 0 {
			host.Look(func(a *desk.Attention) { a.Heat = desk.HeatPicture(k) })
		}
	})
	p.List = NewListing(host, "heat", func(row desk.Row) { p.choose(row.Parts[0]) })
	p.Grid = p.List.Grid
	p.Part = newHeatPart(p.choose)
	p.Soak = NewSoak(host)
	p.Decides = NewDecision(host)
	p.Shield, p.Shields = newShieldForm(host), newLayoutShields(host)
	choices := container.NewGridWithColumns(2, p.cases, p.picture)
	top := container.NewVBox(Border(nil, nil, nil, p.List.Find, heading(phrase.Of("What gets hot?"))), choices, p.caution, p.says)
	p.List.Head = top
	lower := container.NewVScroll(container.NewVBox(p.Soak, p.Part, p.Decides, p.warns, p.Shield, p.Shields, p.more))
	p.split = container.NewVSplit(p.List, lower)
	p.split.SetOffset(quietShare)
	p.veil = NewVeil()
	p.content = Border(top, nil, nil, nil, container.NewStack(p.split, p.veil))
	p.ExtendBaseWidget(p)
	return p
}

// share gives the lower half room when it has something to tell. A split that
// was moved by hand stays until then.
func (p *Heat) share() {
	tells := !p.Part.all.Hidden || !p.Soak.Hidden || !p.Shield.Hidden
	if tells == p.tells {
		return
	}
	if p.tells = tells; tells {
		p.split.SetOffset(toldShareNow())
	} else {
		p.split.SetOffset(quietShare)
	}
}

// Shares of the list's height: with and without a part to tell of.
const (
	toldShare  = 0.40
	wallShare  = 0.55 // as toldShare, in letters for a wall
	quietShare = 0.76
)

func toldShareNow() float64 {
	if large() {
		return wallShare
	}
	return toldShare
}

// Turn goes on to another case.
func (p *Heat) Turn(by int) {
	p.cases.SetSelectedIndex(around(p.cases.SelectedIndex(), by, len(p.cases.Options)))
}

// choose looks at a part.
func (p *Heat) choose(part string) {
	if part == "" {
		return
	}
	p.host.Look(func(a *desk.Attention) { a.Select(part, false) })
	p.host.Fly(Flight{Parts: []string{part}})
}

// Update shows a state.
func (p *Heat) Update(s *desk.State, a *desk.Attention) {
	p.telling = true
	names := desk.HeatCases(s)
	if !slices.Equal(p.cases.Options, names) {
		p.cases.SetOptions(names)
	}
	if a.Case < len(names) && p.cases.Selected != names[a.Case] {
		p.cases.SetSelectedIndex(a.Case)
	}
	if p.picture.SelectedIndex() != int(a.Heat) {
		p.picture.SetSelectedIndex(int(a.Heat))
	}
	p.telling = false
	if says := desk.HeatSentence(s, a.Case); p.says.Text != says {
		say(p.says, says)
		relay(p.content) // the sentence wraps
	}
	r, k := s.Answers.Heat.Value, a.Case
	p.List.Fill(listed{heat: idOf(r), which: strconv.Itoa(k)}, "", func() (desk.Table, string) { return desk.HeatList(s, k) })
	h := &s.Answers.Heat
	p.veil.Dim(h.Value != nil && !h.Fresh && !h.Rough)
	part := ""
	if len(a.Selected) > 0 {
		part = a.Selected[0]
	}
	p.Grid.Choose(part)
	p.Part.Update(desk.HeatPartOf(s, a))
	key := desk.HeatDecision(s, a)
	p.Decides.Update(s, key, key != "")
	say(p.warns, desk.HeatWarnings(s, a)...)
	p.Soak.Update(s, a)
	p.Shield.Update(s, a)
	p.Shields.Update(s)
	p.share()
}

// Leave is of every page.
func (p *Heat) Leave() { p.Shield.state, p.Shields.state = noState(), noState() }

// Step goes on in the list.
func (p *Heat) Step(by int) { p.Grid.Step(by) }

// CreateRenderer is the toolkit's.
func (p *Heat) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
