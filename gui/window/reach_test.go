package window

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// walk visits all that can be seen below an object; above holds what it lies in.
func walk(o fyne.CanvasObject, above []fyne.CanvasObject, visit func(o fyne.CanvasObject, above []fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	visit(o, above)
	above = append(above[:len(above):len(above)], o)
	var below []fyne.CanvasObject
	switch o := o.(type) {
	case *fyne.Container:
		below = o.Objects
	case fyne.Widget:
		below = test.WidgetRenderer(o).Objects()
	}
	for _, child := range below {
		walk(child, above, visit)
	}
}

// hintOf returns what the status line says while the pointer is over a control.
func (b *bench) hintOf(o fyne.CanvasObject, above []fyne.CanvasObject) string {
	b.Hint("")
	before := b.status.Text()
	if len(above) > 0 {
		if c, ok := above[len(above)-1].(*fyne.Container); ok {
			for _, beside := range c.Objects {
				if _, taps := beside.(fyne.Tappable); beside == o || taps {
					continue
				}
				if over, ok := beside.(desktop.Hoverable); ok {
					over.MouseIn(&desktop.MouseEvent{})
				}
			}
		}
	}
	defer b.Hint("")
	if said := b.status.Text(); said != before {
		return said
	}
	return ""
}

// everywhere opens one page after the other, and the editor.
func (b *bench) everywhere(visit func(where string)) {
	for q := range b.pages {
		b.openPage(desk.Question(q))
		b.settle()
		visit(fmt.Sprintf("page %d", q))
	}
	b.Edit("/parts/0")
	b.settle()
	visit("editor")
	b.CloseEditor()
	b.settle()
}

// Whatever can be clicked on a page is reached by Tab too, and a button that
// says no more than a sign or a word tells in the status line what it does.
func TestEveryControlIsReachedAndTold(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(firstWidth, firstHeight))
	b.everywhere(func(where string) {
		b.win.Canvas().Unfocus()
		reached := map[fyne.Focusable]bool{}
		for {
			b.win.Canvas().FocusNext()
			f := b.win.Canvas().Focused()
			if f == nil || reached[f] {
				break
			}
			reached[f] = true
		}
		walk(b.win.Content(), nil, func(o fyne.CanvasObject, above []fyne.CanvasObject) {
			if d, ok := o.(fyne.Disableable); ok && d.Disabled() {
				return
			}
			if f, ok := o.(fyne.Focusable); ok && !reached[f] {
				t.Errorf("%s: Tab does not reach %T %s", where, o, named(o))
			}
			if button, ok := o.(*widget.Button); ok && !ofField(above) && len(strings.Fields(button.Text)) < 2 && b.hintOf(o, above) == "" {
				t.Errorf("%s: nothing tells what %q does", where, named(o))
			}
		})
	})
}

// ofField reports whether a control is a field's own.
func ofField(above []fyne.CanvasObject) bool {
	_, of := above[len(above)-1].(interface{ SetPlaceHolder(string) })
	return of
}

// named returns what a control says.
func named(o fyne.CanvasObject) string {
	switch o := o.(type) {
	case *widget.Button:
		if o.Text == "" && o.Icon != nil {
			return o.Icon.Name()
		}
		return o.Text
	case *widget.Check:
		return o.Text
	case *widget.Entry:
		return o.PlaceHolder
	case *widget.Select:
		return o.Selected
	}
	return ""
}

// No label and no button is given less room than its text needs, in no look and
// at 100, 150 and 200 %, on screens of 1280 by 800 and 1920 by 1080. A
// scale of 200 % leaves half the size; each page fits into it.
func TestNoTextIsCut(t *testing.T) {
	b := newBench(t)
	for _, screen := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 1920, Height: 1080}} {
		for _, scale := range []float32{1, 1.5, 2} {
			size := fyne.NewSize(screen.Width/scale, screen.Height/scale-menuHigh)
			for _, look := range []theme.Look{theme.Light, theme.Review} {
				b.setLook(look)
				b.win.Resize(size) // letters go by the window's height
				b.settle()
				b.fitLook(size.Height)
				b.settle()
				least := b.win.Content().MinSize()
				if least.Width > size.Width || least.Height > size.Height {
					t.Errorf("%v at %v %%, %s: the window needs %v, there are %v", screen, scale*100, look, least, size)
				}
				b.win.Resize(size.Max(least))
				b.settle()
				relaid(b.win.Content())
				b.everywhere(func(where string) {
					walk(b.win.Content(), nil, func(o fyne.CanvasObject, above []fyne.CanvasObject) {
						if text, room, needs := cut(o, above); text != "" {
							t.Errorf("%v at %v %%, %s, %s: %q has %v and needs %v", screen, scale*100, look, where, text, room, needs)
						}
					})
				})
			}
		}
	}
}

// relaid lays everything out anew, what is hidden too, as the toolkit does with a
// window on a screen when the theme changes.
func relaid(o fyne.CanvasObject) {
	switch o := o.(type) {
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(o).Objects() {
			relaid(child)
		}
		test.WidgetRenderer(o).Layout(o.Size())
	case *fyne.Container:
		for _, child := range o.Objects {
			relaid(child)
		}
	}
	if o != nil {
		o.Refresh()
	}
}

// cut returns the text of a label or button that has less room than it needs.
// Labels that end in … by themselves, and what scrolls, are not cut.
func cut(o fyne.CanvasObject, above []fyne.CanvasObject) (text string, room, needs fyne.Size) {
	room, needs = o.Size(), o.MinSize()
	switch o := o.(type) {
	case *widget.Label:
		if text = o.Text; o.Truncation != fyne.TextTruncateOff {
			return "", room, needs
		}
	case *widget.Button:
		text = o.Text
	default:
		return "", room, needs
	}
	for _, a := range above {
		if _, scrolls := a.(*container.Scroll); scrolls {
			needs.Height = 0
		}
	}
	const rounding = 1
	if room.Width+rounding >= needs.Width && room.Height+rounding >= needs.Height {
		return "", room, needs
	}
	return text, room, needs
}
