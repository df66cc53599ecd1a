package page

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Spots is the page of "Where can it be mounted?".
type Spots struct {
	widget.BaseWidget
	host          Host
	says, detail  *widget.Label
	changes       *widget.Label // what would open more places
	joint         *widget.Label
	studies       *widget.Select
	matters       *widget.Select
	Why           *widget.Check // shows where it cannot be, and why
	Use, UseAll   *widget.Button
	Grid, Refused *Grid
	Decides       *Decision          // where there is no place
	asks          [2]*fyne.Container // what a wall does without
	content       fyne.CanvasObject
	telling       bool
	state         *desk.State
	at            desk.Attention
}

// NewSpots returns the page.
func NewSpots(host Host) *Spots {
	p := &Spots{host: host, says: sentence(), detail: sentence(), changes: aside(""), joint: aside("")}
	p.detail.Hide()
	p.changes.Hide()
	p.joint.Hide()
	p.studies = widget.NewSelect(nil, func(string) {
		if k := p.studies.SelectedIndex(); !p.telling && k >= 0 {
			host.Look(func(a *desk.Attention) { a.Study, a.Rank, a.Finding = k, 0, "" })
		}
	})
	p.studies.PlaceHolder = "component"
	p.matters = widget.NewSelect(desk.Priorities, func(margin string) {
		if st := desk.StudyOf(p.state, &p.at); !p.telling && st != nil {
			host.Prefer(st.Name, margin)
		}
	})
	p.Why = widget.NewCheck(phrase.Of("Why not here?"), func(on bool) {
		if !p.telling {
			host.Look(func(a *desk.Attention) { a.Why = on })
		}
	})
	p.Use = widget.NewButton(phrase.Of("Use this place"), p.use)
	p.Use.Importance = widget.HighImportance
	p.Use.Disable()
	p.UseAll = widget.NewButton(phrase.Of("Use all together"), func() {
		if uses := desk.JointUses(p.state); len(uses) > 0 {
			host.Use(uses...)
		}
	})
	p.UseAll.Hide()
	p.Grid = NewGrid("", p.choose)
	p.Decides = NewDecision(host)
	p.Refused = NewGrid(phrase.Of("nothing was refused"), nil)
	use := Border(nil, nil, nil, container.NewVBox(hinted(host, p.Use, phrase.Of("Mount the component in the chosen place as an edit"))), aside(desk.HeatCaution))
	lower := Border(nil, use, nil, nil, container.NewVScroll(container.NewVBox(p.detail, p.Decides, p.changes, container.New(&rowsHigh{grid: p.Refused}, p.Refused))))
	p.asks = [2]*fyne.Container{
		Border(nil, nil, widget.NewLabel(phrase.Of("What matters most")), nil, p.matters),
		Border(nil, nil, nil, container.NewCenter(p.UseAll), p.joint),
	}
	top := container.NewVBox(heading(phrase.Of("Where can it be mounted?")),
		Border(nil, nil, widget.NewLabel(phrase.Of("For")), p.Why, p.studies), p.asks[0], p.says, p.asks[1])
	split := container.NewVSplit(p.Grid, lower)
	split.SetOffset(0.46)
	p.content = Border(top, nil, nil, nil, split)
	p.ExtendBaseWidget(p)
	return p
}

func (p *Spots) choose(row desk.Row) {
	rank, err := strconv.Atoi(row.Key)
	if err != nil {
		return // the refused have no place
	}
	p.host.Look(func(a *desk.Attention) { a.Rank, a.Finding, a.Selected = rank, "", nil })
	at := p.at
	at.Rank = rank
	if sp := desk.SpotOf(p.state, &at); sp != nil {
		p.host.Fly(Flight{From: sp.PointMM, To: sp.PointMM, Facing: sp.Normal, SizeMM: 800})
	}
}

func (p *Spots) use() {
	if use, ok := desk.UseOf(p.state, &p.at); ok {
		p.host.Use(use)
	}
}

// Update shows a state.
func (p *Spots) Update(s *desk.State, a *desk.Attention) {
	p.state, p.at = s, a.Clone()
	p.telling = true
	names := desk.StudyNames(s)
	if !slices.Equal(p.studies.Options, names) {
		p.studies.SetOptions(names)
	}
	if a.Study < len(names) && p.studies.Selected != names[a.Study] {
		p.studies.SetSelectedIndex(a.Study)
	}
	st := desk.StudyOf(s, a)
	joint := p.joint.Text
	if wall := large(); wall != p.asks[0].Hidden {
		p.asks[0].Hidden, p.asks[1].Hidden = wall, wall
		relay(p.content)
	}
	p.tell(s, a)
	p.telling = false
	if says := desk.SpotsSentence(s, st); p.says.Text != says || joint != p.joint.Text {
		say(p.says, says)
		relay(p.content) // the sentences wrap
	}
	if st != nil {
		p.Grid.SetTable(desk.SpotsPage(st))
		p.Refused.SetTable(desk.RefusedPage(st))
	} else {
		p.Grid.SetTable(desk.Table{})
		p.Refused.SetTable(desk.Table{})
	}
	key := ""
	if a.Rank > 0 {
		key = strconv.Itoa(a.Rank)
	}
	p.Grid.Choose(key)
	say(p.detail, desk.SpotText(st, desk.SpotOf(s, a))...)
	say(p.changes, desk.ChangesText(st)...)
	open := desk.PlaceDecision(s, a)
	p.Decides.Update(s, open, open != "")
	_, ok := desk.UseOf(s, a)
	enable(p.Use, ok)
}

// tell sets what matters most, the map's check and what concerns all
// components.
func (p *Spots) tell(s *desk.State, a *desk.Attention) {
	if m := desk.PriorityOf(s, a); p.matters.Selected != m {
		p.matters.Selected = m
		p.matters.Refresh()
	}
	if p.Why.Checked != a.Why {
		p.Why.SetChecked(a.Why)
	}
	say(p.joint, desk.JointText(s))
	if n := len(desk.JointUses(s)); n < 2 {
		p.UseAll.Hide()
	} else {
		p.UseAll.Show()
	}
}

// Turn goes on to another component.
func (p *Spots) Turn(by int) {
	p.studies.SetSelectedIndex(around(p.studies.SelectedIndex(), by, len(p.studies.Options)))
}

// Chosen returns what the page says of the chosen place, "" for none.
func (p *Spots) Chosen() string { return p.detail.Text }

// Leave is of every page.
func (p *Spots) Leave() { p.state = noState() }

// Step goes on in the list.
func (p *Spots) Step(by int) { p.Grid.Step(by) }

// CreateRenderer is the toolkit's.
func (p *Spots) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
