package review

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// bar takes the decision: four states, one of them chosen, owner, due day and
// what is to be done.
type bar struct {
	window  *Window
	states  []*chip
	owner   *field
	due     *field
	notes   *field
	fault   *words
	is      layout.Decision  // as the layout has it
	kept    bool             // it shows one
	asked   *layout.Decision // kept, but not yet in a state that was shown; nil for none
	ticks   int              // of the clock since then
	content *fyne.Container
}

// stateKeys are the keys of desk.DecisionStates. Read-only.
var stateKeys = []rune{'o', 'a', 'r', 'c'}

func newBar(w *Window) *bar {
	b := &bar{window: w}
	var chips []fyne.CanvasObject
	for k, state := range desk.DecisionStates {
		chip := newChip(w.wall, string(stateKeys[k]-'a'+'A')+"  "+state)
		b.states, chips = append(b.states, chip), append(chips, chip.content)
	}
	b.owner, b.due, b.notes = newField("who (W)", b), newField("due (D)", b), newField(phrase.Of("what is to be done (N)"), b)
	b.fault = w.wall.words(smallShare, fynetheme.ColorNamePlaceHolder, false)
	row := container.NewGridWithColumns(2, container.NewGridWithColumns(len(chips), chips...), container.NewGridWithColumns(2, b.owner, b.due))
	b.fault.Text.Text = hint
	b.content = container.NewVBox(row, b.notes, b.fault.Text)
	return b
}

// hint stands where nothing is wrong. Read-only.
var hint = phrase.Of("→ next   ← back   End summary   ? keys")

// tell says what is wrong, or the hint.
func (b *bar) tell(err error) {
	text, name := hint, fynetheme.ColorNamePlaceHolder
	if err != nil {
		text, name = phrase.Err(err), fynetheme.ColorNameError
	}
	b.fault.Color = b.window.wall.color(name)
	b.fault.say(text)
}

// high is how high the bar stands.
func (b *bar) high() float32 { return b.content.MinSize().Height }

func (b *bar) refresh() {
	for _, c := range b.states {
		c.words.TextSize = b.window.wall.of(wordShare)
	}
	b.fault.TextSize = b.window.wall.of(smallShare)
	b.content.Refresh()
}

// update shows a decision. What is being typed stays.
func (b *bar) update(is layout.Decision) {
	if b.asked != nil && b.asked.Finding == is.Finding {
		if !desk.SameDecision(is, *b.asked) {
			return // of before the edit that is on its way
		}
		b.asked = nil
	}
	if desk.SameDecision(is, b.is) && b.kept {
		return
	}
	b.show(is)
}

// mostTicks is for how many ticks of the clock a decision may be on its way: one
// that was undone before it was shown never comes.
const mostTicks = 3

// tick gives up waiting for a decision that does not come.
func (b *bar) tick(is layout.Decision) {
	if b.asked == nil {
		return
	}
	if b.ticks++; b.ticks > mostTicks {
		b.asked = nil
		b.update(is)
	}
}

// show shows a decision.
func (b *bar) show(is layout.Decision) {
	was := b.is
	b.is, b.kept = is, true
	for k, c := range b.states {
		c.choose(desk.DecisionStates[k] == is.State)
	}
	for _, f := range []struct {
		field   *field
		was, is string
	}{{b.owner, was.Owner, is.Owner}, {b.due, was.Due, is.Due}, {b.notes, was.Notes, is.Notes}} {
		if is.Finding != was.Finding || f.field.Text == f.was {
			f.field.SetText(f.is)
		}
	}
	b.tell(nil)
}

// decide keeps a decision as an edit. It is shown at once, so that the next word
// builds on it; if it is refused, what was before is shown again.
func (b *bar) decide(of layout.Decision) {
	if desk.SameDecision(of, b.is) {
		return
	}
	was := b.is
	b.tell(nil)
	b.asked, b.ticks = &of, 0
	b.show(of)
	b.window.host.Decide(of, func(err error) {
		if b.asked == &of {
			b.asked = nil
			b.show(was)
		}
		b.tell(err)
	})
}

// state settles the state of the finding; the same once more takes it back.
func (b *bar) state(k int) {
	of := b.typed()
	of.State = desk.DecisionStates[k]
	if of.State == b.is.State {
		of.State = ""
	}
	b.decide(of)
}

// typed is what stands in the fields, with the due day worked out.
func (b *bar) typed() layout.Decision {
	of := b.is
	of.Owner, of.Notes = strings.TrimSpace(b.owner.Text), strings.TrimSpace(b.notes.Text)
	if day, err := desk.ParseDue(b.due.Text, b.window.host.Now()); err == nil {
		of.Due = day
	}
	return of
}

// keep keeps what stands in the fields; a due day that cannot be read stays to
// be mended, and false is returned.
func (b *bar) keep() bool {
	day, err := desk.ParseDue(b.due.Text, b.window.host.Now())
	if err != nil {
		b.tell(err)
		return false
	}
	if b.due.Text != day {
		b.due.SetText(day)
	}
	b.decide(b.typed())
	return true
}

// leave puts the fields back as the layout has it.
func (b *bar) leave() {
	b.owner.SetText(b.is.Owner)
	b.due.SetText(b.is.Due)
	b.notes.SetText(b.is.Notes)
	b.tell(nil)
}

// field is an entry that Enter keeps and Escape leaves as it was.
type field struct {
	widget.Entry
	bar *bar
}

func newField(says string, b *bar) *field {
	f := &field{bar: b}
	f.ExtendBaseWidget(f)
	f.SetPlaceHolder(says)
	return f
}

// TypedKey is the toolkit's.
func (f *field) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		f.bar.leave()
		f.bar.window.win.Canvas().Unfocus()
	case fyne.KeyReturn, fyne.KeyEnter:
		if f.bar.keep() {
			f.bar.window.win.Canvas().Unfocus()
		}
	default:
		f.Entry.TypedKey(e)
	}
}

// chip is a state that can be chosen: framed, and filled when it is.
type chip struct {
	look    *wall
	words   *words
	ground  *canvas.Rectangle
	content *fyne.Container
}

func newChip(look *wall, says string) *chip {
	c := &chip{look: look, words: look.words(wordShare, fynetheme.ColorNameForeground, false)}
	c.words.Alignment = fyne.TextAlignCenter
	c.words.Text.Text = says
	c.ground = canvas.NewRectangle(look.color(fynetheme.ColorNameBackground))
	c.ground.StrokeColor, c.ground.StrokeWidth = look.color(fynetheme.ColorNameInputBorder), 2
	c.content = container.NewStack(c.ground, c.words.Text)
	c.choose(false)
	return c
}

// choose fills the chip or empties it.
func (c *chip) choose(chosen bool) {
	ground, ink := fynetheme.ColorNameBackground, fynetheme.ColorNameForeground
	if chosen {
		ground, ink = fynetheme.ColorNamePrimary, fynetheme.ColorNameForegroundOnPrimary
	}
	c.ground.FillColor, c.words.Color, c.words.TextStyle.Bold = c.look.color(ground), c.look.color(ink), chosen
	c.words.TextSize = c.look.of(wordShare)
	c.content.Refresh()
}
