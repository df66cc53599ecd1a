package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Decision is the form in which the review settles the chosen finding: state,
// owner, due day and notes. It is kept as an edit.
type Decision struct {
	widget.BaseWidget
	host    Host
	State   *widget.Select
	Owner   *widget.Entry
	Due     *widget.Entry
	Notes   *widget.Entry
	Settle  *widget.Button
	fault   *widget.Label
	History *widget.Label   // what was settled when
	is      layout.Decision // as the layout has it
	telling bool
	content fyne.CanvasObject
}

// NewDecision returns an empty form.
func NewDecision(host Host) *Decision {
	f := &Decision{host: host, Owner: widget.NewEntry(), Due: widget.NewEntry(), Notes: widget.NewEntry(), fault: sentence(), History: aside("")}
	f.fault.Importance = widget.DangerImportance
	f.fault.Hide()
	f.State = widget.NewSelect(desk.DecisionStates, func(string) { f.check() })
	f.State.PlaceHolder = "decision"
	f.Owner.SetPlaceHolder(phrase.Of("owner"))
	f.Due.SetPlaceHolder(phrase.Of("due, 2027-01-31"))
	f.Notes.SetPlaceHolder(phrase.Of("what is to be done, or why"))
	for _, e := range []*widget.Entry{f.Owner, f.Due, f.Notes} {
		e.OnChanged = func(string) { f.check() }
		e.OnSubmitted = func(string) { f.settle() }
	}
	f.Settle = widget.NewButton(phrase.Of("Keep the decision"), f.settle)
	f.Settle.Disable()
	f.content = container.NewVBox(container.NewGridWithColumns(3, f.State, f.Owner, f.Due), Border(nil, nil, nil, hinted(host, f.Settle, phrase.Of("Put decision, owner and day into the layout as an edit")), f.Notes), f.fault, f.History)
	f.ExtendBaseWidget(f)
	f.Hide()
	return f
}

// typed is what stands in the fields.
func (f *Decision) typed() layout.Decision {
	return layout.Decision{Finding: f.is.Finding, State: f.State.Selected, Owner: f.Owner.Text, Due: f.Due.Text, Notes: f.Notes.Text}
}

func (f *Decision) check() {
	if !f.telling {
		enable(f.Settle, !desk.SameDecision(f.typed(), f.is))
	}
}

func (f *Decision) settle() {
	if desk.SameDecision(f.typed(), f.is) {
		return
	}
	say(f.fault)
	f.host.Decide(f.typed(), func(err error) { say(f.fault, phrase.Err(err)) })
}

// Update shows what was settled about a finding. What is being typed stays until
// another finding is chosen or the layout says something else of it.
func (f *Decision) Update(s *desk.State, finding string, has bool) {
	f.Hidden = !has
	if f.Hidden {
		f.is = layout.Decision{}
		return
	}
	if is := desk.DecisionOf(s.Doc, finding); !desk.SameDecision(is, f.is) {
		f.is, f.telling = is, true
		f.State.ClearSelected()
		if is.State != "" {
			f.State.SetSelected(is.State)
		}
		f.Owner.SetText(is.Owner)
		f.Due.SetText(is.Due)
		f.Notes.SetText(is.Notes)
		f.telling = false
		say(f.fault)
		say(f.History, desk.HistoryLines(is)...)
	}
	f.check()
}

// CreateRenderer is the toolkit's.
func (f *Decision) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(f.content) }
