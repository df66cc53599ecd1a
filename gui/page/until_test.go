package page

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/gui/desk"
)

func TestUntilAsks(t *testing.T) {
	test.NewTempApp(t)
	s := &desk.State{Open: true, Doc: &layout.Document{Parts: []layout.Part{{Name: "lid"}, {Name: "block"}}}}
	var asked []desk.Until
	var answer error
	f := NewUntil(s, desk.Load{Parts: []string{"lid"}}, func(u desk.Until, done func(says string, err error)) {
		asked = append(asked, u)
		done("moved", answer)
	})
	win := test.NewTempWindow(t, f)
	if w := win.Content().MinSize().Width; w > 440 {
		t.Errorf("needs a width of %v", w)
	}
	test.Tap(f.Go)
	f.Keep.SetText(desk.UntilRequired)
	f.From.SetText("block")
	f.Direction.SetSelected("rearward")
	test.Tap(f.Go)
	if len(asked) != 2 || asked[0].KeepMM != 10 || asked[0].From != "" || asked[0].Dir != (geom.Vec{0, 0, -1}) ||
		!asked[1].Rules || asked[1].From != "block" || asked[1].Dir != (geom.Vec{1, 0, 0}) {
		t.Fatalf("%+v", asked)
	}
	if f.says.Text != "moved" || f.says.Hidden {
		t.Errorf("says %q", f.says.Text)
	}
	f.From.SetText("blok")
	if f.fault.Hidden || !strings.Contains(f.fault.Text, "blok") || !f.Go.Disabled() {
		t.Errorf("a part that there is not: %q", f.fault.Text)
	}
	f.From.SetText("block")
	f.Keep.SetText("much")
	if f.fault.Hidden || !strings.Contains(f.fault.Text, "not a number") {
		t.Errorf("%q", f.fault.Text)
	}
	f.Keep.SetText("5")
	answer = errors.New("lid meets nothing that way")
	test.Tap(f.Go)
	if f.fault.Text != answer.Error() || !f.says.Hidden {
		t.Errorf("%q, %q", f.fault.Text, f.says.Text)
	}
}

func TestLinksOpenTheEditor(t *testing.T) {
	test.NewTempApp(t)
	h := &hostSpy{}
	l := NewLinks(h)
	s := &desk.State{Open: true, Doc: &layout.Document{Parts: []layout.Part{{Name: "lid"}}}}
	l.Update(s, &desk.Attention{Selected: []string{"lid"}})
	if l.Hidden || len(l.Buttons) != 2 {
		t.Fatalf("%d links", len(l.Buttons))
	}
	test.Tap(l.Buttons[1])
	if len(h.opened) != 1 || h.opened[0] != "/parts/0" {
		t.Errorf("opened %v", h.opened)
	}
}
