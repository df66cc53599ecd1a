package window

import (
	"context"
	"errors"
	"testing"

	"aftbay/geom"
	"aftbay/gui/phrase"
)

// A command that takes long tells how far it is and can be stopped, by its button
// and by Escape; at its end the dialog goes.
func TestLongCommandsAreStopped(t *testing.T) {
	b := newBench(t)
	for _, how := range []string{"button", "Escape", "not"} {
		ran, ended := false, errors.New("not ended")
		b.atLength("Counting", "to a thousand", func(ctx context.Context, progress geom.Progress) error {
			ran = true
			progress(250, 1000)
			return ctx.Err()
		}, func(err error) { ended = err })
		if b.win.Canvas().Overlays().Top() == nil {
			t.Fatal("nothing tells how far it is")
		}
		switch how {
		case "button":
			b.press(phrase.Of("Cancel"))
		case "Escape":
			b.escapeDialog("Escape")
		}
		b.settle()
		if want := map[string]error{"button": context.Canceled, "Escape": context.Canceled}[how]; !ran || !errors.Is(ended, want) {
			t.Errorf("%s: ran %v, ended with %v, want %v", how, ran, ended, want)
		}
		if b.win.Canvas().Overlays().Top() != nil {
			t.Errorf("%s: the dialog stays", how)
		}
	}
}
