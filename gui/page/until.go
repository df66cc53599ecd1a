package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// anyPart stands for all parts that what moves may come near to. Read-only.
var anyPart = phrase.Of("any part")

// Until asks how far what is selected shall move: which way, until how near, to
// what.
type Until struct {
	widget.BaseWidget
	load      desk.Load
	move      func(u desk.Until, done func(says string, err error))
	what      *widget.Label
	Direction *widget.Select
	Keep      *Typing
	From      *Typing
	Go        *widget.Button
	fault     *widget.Label
	says      *widget.Label
	parts     []string
	content   fyne.CanvasObject
}

// NewUntil returns the form for what is selected in a state; move does it.
func NewUntil(s *desk.State, load desk.Load, move func(u desk.Until, done func(says string, err error))) *Until {
	f := &Until{load: load, move: move, what: sentence(), fault: sentence(), says: sentence()}
	f.fault.Importance = widget.DangerImportance
	f.fault.Hide()
	f.says.Hide()
	f.parts = desk.PartNames(s)
	say(f.what, desk.UntilAsks(load))
	f.Direction = widget.NewSelect(desk.UntilDirections, func(string) {})
	f.Direction.SetSelected("down")
	f.Keep = newTyping(1, []string{desk.UntilRequired, desk.UntilContact}, func(string) { f.check() }, func() {})
	f.Keep.SetText("10 mm")
	f.From = newTyping(1, append([]string{anyPart}, f.parts...), func(string) { f.check() }, func() {})
	f.From.SetText(anyPart)
	f.Go = widget.NewButton(phrase.Of("Move"), f.submit)
	f.Go.Importance = widget.HighImportance
	row := func(label string, o fyne.CanvasObject) fyne.CanvasObject {
		return container.New(shares{labelShare, 1 - labelShare}, widget.NewLabel(label), o)
	}
	f.content = container.NewVBox(f.what, row("direction", f.Direction), row("until", f.Keep), row("from", f.From), f.fault, f.says, container.NewHBox(f.Go))
	f.ExtendBaseWidget(f)
	return f
}

// read returns what is asked for.
func (f *Until) read() (u desk.Until, fault string) {
	keepMM, rules, err := desk.ParseKeep(f.Keep.Text)
	if err != nil {
		return u, "until: " + phrase.Err(err)
	}
	u = desk.Until{Load: f.load, Dir: desk.DirectionOf(f.Direction.Selected), KeepMM: keepMM, Rules: rules}
	if f.From.Text != anyPart {
		u.From = f.From.Text
		if !slices.Contains(f.parts, u.From) {
			return u, phrase.Of("from: no part is called \"") + u.From + phrase.Of("\"; choose one from the list")
		}
	}
	return u, ""
}

func (f *Until) check() {
	if f.Go == nil {
		return
	}
	_, fault := f.read()
	say(f.fault, fault)
	enable(f.Go, fault == "")
}

func (f *Until) submit() {
	u, fault := f.read()
	if fault != "" {
		return
	}
	f.Go.Disable()
	f.move(u, func(says string, err error) {
		f.Go.Enable()
		if err != nil {
			say(f.fault, phrase.Err(err))
			say(f.says)
			return
		}
		say(f.fault)
		say(f.says, says)
	})
}

// CreateRenderer is the toolkit's.
func (f *Until) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(f.content) }
