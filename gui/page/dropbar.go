package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/units"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// DropBar lowers the drop group: a slider, a number, and what to do with it.
type DropBar struct {
	widget.BaseWidget
	host    Host
	Slider  *widget.Slider
	Entry   *widget.Entry
	Keep    *widget.Button
	Back    *widget.Button
	Limit   *widget.Button
	mark    *theme.Mark
	line    *Fitted
	telling bool // the value comes from the program
	typed   bool // the field holds what the reader types
	state   *desk.State
	content fyne.CanvasObject
}

// NewDropBar returns a bar.
func NewDropBar(host Host) *DropBar {
	b := &DropBar{host: host, mark: theme.VerdictMark("")}
	b.Slider = widget.NewSlider(0, 1)
	b.Slider.Step = dropStepMM
	b.Slider.OnChanged = func(mm float64) {
		if !b.telling {
			b.telling = true
			b.Entry.SetText(units.NumberMM(mm))
			b.telling, b.typed = false, false
			b.foretell(mm)
			host.Preview(mm)
		}
	}
	b.Entry = widget.NewEntry()
	b.Entry.OnChanged = func(string) { b.typed = !b.telling }
	b.Entry.OnSubmitted = b.submit
	b.Keep = widget.NewButton(phrase.Of("Apply"), host.Keep)
	b.Back = widget.NewButton(phrase.Of("Back to start"), func() { host.PreviewStand(desk.Stand{}) })
	b.Limit = widget.NewButton(phrase.Of("To the limit"), b.toLimit)
	b.line = NewFitted()
	entry := container.New(figureRoom{}, b.Entry)
	field := container.NewHBox(entry, widget.NewLabel(phrase.Of("mm down")))
	lead := widget.NewLabelWithStyle(phrase.Of("Drop"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	says := container.New(&sayRow{}, b.mark, b.line, container.NewHBox(
		hinted(host, b.Limit, phrase.Of("Lower the group to where the first limit stops it")),
		hinted(host, b.Back, phrase.Of("Show the group where the layout has it")),
		hinted(host, b.Keep, phrase.Of("Make the place shown an edit of the layout; it can be undone")),
	))
	b.content = container.NewVBox(Border(nil, nil, lead, field, b.Slider), says)
	b.ExtendBaseWidget(b)
	return b
}

// dropStepMM is the step of the slider: less cannot be aimed with a pointer.
// Common practice, no source.
const dropStepMM = 0.1

// foretell says at once what a drop comes to: the answer for all drops is known,
// only the scene has to follow.
func (b *DropBar) foretell(dropMM float64) {
	if b.state == nil {
		return
	}
	at := *b.state
	at.DropMM = dropMM
	b.tell(&at)
}

// tell shows the sentence of a state.
func (b *DropBar) tell(s *desk.State) {
	line, verdict := desk.DropLine(s)
	b.mark.SetVerdict(verdict)
	if b.line.Text() != line && !b.typed {
		b.line.SetText(line)
	}
}

// figureRoom gives a field the width of a figure of a few digits, whatever the
// letters of the look.
type figureRoom struct{}

// figureLetters is the width in sizes of the letters.
const figureLetters = 5.3

// MinSize is the toolkit's.
func (figureRoom) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(figureLetters*fynetheme.Size(fynetheme.SizeNameText), objects[0].MinSize().Height)
}

// Layout is the toolkit's.
func (figureRoom) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Move(fyne.Position{})
	objects[0].Resize(size)
}

func (b *DropBar) submit(text string) {
	if b.state == nil {
		return
	}
	mm, err := desk.ParseDrop(b.state, text)
	if err != nil {
		b.line.SetText(phrase.Err(err))
		b.mark.SetVerdict("short")
		return
	}
	b.typed = false
	b.host.Preview(mm)
}

// toLimit goes to the end of the window.
func (b *DropBar) toLimit() {
	if b.state == nil {
		return
	}
	if mm, ok := desk.LimitMM(b.state); ok {
		b.typed = false
		b.host.Preview(mm)
	}
}

// Update shows a state.
func (b *DropBar) Update(s *desk.State) {
	b.state = s
	b.telling = true
	defer func() { b.telling = false }()
	has := s.Range[1] > s.Range[0]
	b.Hidden = !has
	if !has {
		return
	}
	if b.Slider.Min != s.Range[0] || b.Slider.Max != s.Range[1] {
		b.Slider.Min, b.Slider.Max = s.Range[0], s.Range[1]
		b.Slider.Refresh()
	}
	if b.Slider.Value != s.DropMM {
		b.Slider.SetValue(s.DropMM)
	}
	if text := units.NumberMM(s.DropMM); !b.typed && b.Entry.Text != text {
		b.Entry.SetText(text)
	}
	b.tell(s)
	away := s.DropMM != 0 || s.ShiftMM != 0
	enable(b.Keep, away)
	enable(b.Back, away)
	limitMM, known := desk.LimitMM(s)
	enable(b.Limit, known && limitMM != s.DropMM)
	for _, key := range []*widget.Button{b.Keep, b.Back} {
		key.Hidden = large() && key.Disabled() // the room is for the sentence
	}
}

// CreateRenderer is the toolkit's.
func (b *DropBar) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(b.content) }
