package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// shieldForm tries a shield for the chosen part: what it covers, its form and
// offset; then what it does, and whether to keep it.
type shieldForm struct {
	widget.BaseWidget
	host               Host
	over, form         *widget.Select
	offset, emissivity *widget.Entry
	Try, Keep, Drop    *widget.Button
	without            *widget.Check
	says               *widget.Label
	table              *Grid
	tableRoom          *fyne.Container
	ask, act           *fyne.Container
	content            *fyne.Container
	telling            bool
	state              *desk.State
	at                 desk.Attention
}

func newShieldForm(host Host) *shieldForm {
	f := &shieldForm{host: host, says: sentence()}
	f.over = widget.NewSelect(nil, nil)
	f.over.PlaceHolder = "over"
	f.form = widget.NewSelect(desk.ShieldForms, nil)
	f.form.SetSelectedIndex(0)
	f.offset, f.emissivity = widget.NewEntry(), widget.NewEntry()
	f.offset.SetText("15 mm")
	f.emissivity.SetPlaceHolder(phrase.Of("usual"))
	f.offset.OnSubmitted = func(string) { f.try() }
	f.emissivity.OnSubmitted = func(string) { f.try() }
	f.Try = widget.NewButton(phrase.Of("Try a shield"), f.try)
	f.Keep = widget.NewButton(phrase.Of("Keep as a part"), host.KeepShield)
	f.Keep.Importance = widget.HighImportance
	f.Drop = widget.NewButton(phrase.Of("Drop it"), host.DropShield)
	f.without = widget.NewCheck(phrase.Of("scene without it"), func(on bool) {
		if !f.telling {
			host.Look(func(a *desk.Attention) { a.Without = on })
		}
	})
	label := func(text string, o fyne.CanvasObject) fyne.CanvasObject {
		return container.NewBorder(nil, nil, widget.NewLabel(text), nil, o)
	}
	f.ask = container.NewVBox(
		container.NewGridWithColumns(2, label(phrase.Of("Shield over"), f.over), label("as a", f.form)),
		container.NewBorder(nil, nil, nil, f.Try, container.NewGridWithColumns(2, label("at", f.offset), label("emissivity", f.emissivity))))
	f.act = container.NewHBox(f.Keep, f.Drop, f.without)
	f.table = NewGrid("", nil)
	f.tableRoom = container.New(&rowsHigh{grid: f.table}, f.table)
	f.content = container.NewVBox(widget.NewSeparator(), f.ask, f.says, f.tableRoom, f.act)
	f.ExtendBaseWidget(f)
	return f
}

// try asks for the shield as typed; what is wrong with it is said in its place.
func (f *shieldForm) try() {
	if f.state == nil || len(f.at.Selected) == 0 {
		return
	}
	sh, err := desk.ShieldOf(f.state, desk.ShieldInput{
		Over: f.over.Selected, For: f.at.Selected[0], Form: f.form.Selected, Offset: f.offset.Text, Emissivity: f.emissivity.Text,
	})
	if err != nil {
		say(f.says, phrase.Err(err))
		return
	}
	f.host.TryShield(sh)
}

// Update shows a state.
func (f *shieldForm) Update(s *desk.State, a *desk.Attention) {
	moved := len(a.Selected) != len(f.at.Selected) || len(a.Selected) > 0 && a.Selected[0] != f.at.Selected[0]
	f.state, f.at = s, a.Clone()
	was := [4]bool{f.Hidden, f.ask.Hidden, f.tableRoom.Hidden, f.act.Hidden}
	rows := len(f.table.Rows())
	over := desk.ShieldOver(s, a)
	if !slices.Equal(f.over.Options, over) {
		f.over.SetOptions(over)
	}
	if len(over) > 0 && (moved || !slices.Contains(over, f.over.Selected)) {
		f.over.SetSelectedIndex(0)
	}
	f.Hidden = len(over) == 0 && s.Trial == nil
	f.ask.Hidden = len(over) == 0
	if says := desk.ShieldSays(s); s.Trial != nil || moved {
		say(f.says, says...)
	}
	f.table.SetTable(desk.TrialTable(s))
	f.tableRoom.Hidden = len(f.table.Rows()) == 0
	f.act.Hidden = s.Trial == nil
	enable(f.Keep, s.Answers.Shield.Fresh)
	f.telling = true
	f.without.SetChecked(a.Without)
	f.telling = false
	if was != [4]bool{f.Hidden, f.ask.Hidden, f.tableRoom.Hidden, f.act.Hidden} || rows != len(f.table.Rows()) {
		f.content.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (f *shieldForm) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(f.content)
}
