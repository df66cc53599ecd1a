package window

import (
	"testing"

	"fyne.io/fyne/v2"

	"aftbay/gui/desk"
)

// TestEscapeClosesWhatOnlyTells: one dialog after the other, the last one first;
// a shortcut does not act behind them.
func TestEscapeClosesWhatOnlyTells(t *testing.T) {
	b := newBench(t)
	press := b.win.Canvas().OnTypedKey()
	shown := func() int { return len(b.win.Canvas().Overlays().List()) }
	for _, show := range []func(){b.showKeys, b.showHowMade, func() { b.showError(errNothingSelected) }} {
		show()
	}
	for _, m := range b.menu.main.Items {
		for _, i := range m.Items {
			if i.Label == "Everything the layout says…" || i.Label == "Fit all  (F)" || i.Label == "Review on the wall…" {
				i.Action()
			}
		}
	}
	if shown() != 3 || b.edited {
		t.Fatalf("%d dialogs, editor %v, want 3 and none", shown(), b.edited)
	}
	for left := 2; left >= 0; left-- {
		if press(&fyne.KeyEvent{Name: fyne.KeyEscape}); shown() != left {
			t.Errorf("%d dialogs left, want %d", shown(), left)
		}
	}
}

// Escape leaves a form unfilled, from its fields as from elsewhere.
func TestEscapeLeavesAForm(t *testing.T) {
	b := newBench(t)
	escape := &fyne.KeyEvent{Name: fyne.KeyEscape}
	for _, show := range []func(){b.keepRevision, b.exportPacket, b.askToReview} {
		show()
		if on := b.win.Canvas().Focused(); on != nil {
			on.TypedRune('B')
			on.TypedKey(escape)
		} else {
			b.win.Canvas().OnTypedKey()(escape)
		}
		if n := len(b.win.Canvas().Overlays().List()); n != 0 {
			t.Errorf("%d dialogs left", n)
		}
	}
}

// A question is left as it is by Escape and answered by Enter as most will want.
func TestQuestionsTakeEscapeAndEnter(t *testing.T) {
	b := newBench(t)
	b.Look(func(a *desk.Attention) { a.Selected = []string{"lid"} })
	b.stage.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	b.settle()
	went := 0
	b.afterSaving(func() { went++ })
	if _, told := b.tells().Buttons["Save"]; !told {
		t.Errorf("told are the buttons %v", b.tells().Buttons)
	}
	b.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.settle()
	if b.win.Canvas().Overlays().Top() != nil || went != 0 || !b.state.Unsaved {
		t.Fatalf("after Escape: went %d, unsaved %v", went, b.state.Unsaved)
	}
	b.afterSaving(func() { went++ })
	b.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	b.settle()
	if b.win.Canvas().Overlays().Top() != nil || went != 1 || b.state.Unsaved {
		t.Errorf("after Enter: went %d, unsaved %v", went, b.state.Unsaved)
	}
}
