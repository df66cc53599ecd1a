package page

import (
	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Typing is a text field that tells when it is done with: by Enter or by going
// elsewhere. It may offer choices.
type Typing struct {
	widget.Entry
	done    func()
	options []string
}

// mostChoices is how many choices a field offers at a time.
const mostChoices = 40

// newTyping returns a field; of several lines where long is set.
func newTyping(lines int, options []string, changed func(string), done func()) *Typing {
	e := &Typing{done: done, options: options}
	e.ExtendBaseWidget(e)
	if lines > 1 {
		e.MultiLine, e.Wrapping = true, fyne.TextWrapWord
		e.SetMinRowsVisible(lines)
	} else {
		e.OnSubmitted = func(string) { done() }
	}
	if len(options) > 0 {
		drop := widget.NewButtonWithIcon("", fynetheme.MenuDropDownIcon(), e.offer)
		drop.Importance = widget.LowImportance
		e.ActionItem = drop
	}
	e.OnChanged = changed
	return e
}

// FocusLost is the toolkit's.
func (e *Typing) FocusLost() {
	e.Entry.FocusLost()
	e.done()
}

// TypedKey offers the choices by the arrow key down.
func (e *Typing) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyDown && len(e.options) > 0 && !e.MultiLine {
		e.offer()
		return
	}
	if k.Name == fyne.KeyF1 {
		passKey(e, k)
		return
	}
	e.Entry.TypedKey(k)
}

// offer shows the choices that hold what is typed; all where it is one of them.
func (e *Typing) offer() {
	typed := e.Text
	if e.MultiLine {
		typed = ""
	}
	for _, o := range e.options {
		if o == typed {
			typed = ""
		}
	}
	var items []*fyne.MenuItem
	for _, o := range desk.Matching(e.options, typed, mostChoices) {
		items = append(items, fyne.NewMenuItem(o, func() { e.take(o) }))
	}
	if len(items) == 0 {
		return
	}
	driver := fyne.CurrentApp().Driver()
	canvas := driver.CanvasForObject(e)
	if canvas == nil {
		return
	}
	menu := widget.NewPopUpMenu(fyne.NewMenu("", items...), canvas)
	menu.ShowAtPosition(driver.AbsolutePositionForObject(e).AddXY(0, e.Size().Height))
}

// take puts a choice in: in place of what is typed, or as one more line.
func (e *Typing) take(choice string) {
	if e.MultiLine && e.Text != "" {
		choice = e.Text + "\n" + choice
	}
	e.SetText(choice)
	e.done()
}

// Says is the text in the field.
func (e *Typing) Says() string { return e.Text }
