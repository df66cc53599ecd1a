package window

import (
	"testing"

	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/settings"
)

// A layout that is opened again looks as it was left: camera, cuts, hidden parts
// and page; a flight to a finding does not count, and another layout is looked at
// afresh.
func TestALayoutOpensAsItWasLeft(t *testing.T) {
	b := newBench(t)
	b.o.SettingsDir = t.TempDir()
	first, second := b.state.Path, writeBench(t, "Other")
	b.Look(func(a *desk.Attention) {
		a.Page, a.Measures, a.Shells = desk.Heats, false, true
		a.Hide("lid", true)
		if err := a.CutAcross(&b.state, 0); err != nil {
			t.Fatal(err)
		}
	})
	b.run()
	left := b.stage.Camera().Orbit(b.stage.Camera().Target, 0.7, 0.2)
	b.stage.SetCamera(left)
	b.Fly(page.Flight{Parts: []string{"block"}})
	at := b.attention()
	b.Open(second)
	b.settle()
	if got := b.attention(); len(got.Sections) != 0 || len(got.Hidden) != 0 || b.stage.Camera() == left {
		t.Errorf("the other layout is looked at as the first: %+v", got)
	}
	b.Open(first)
	b.settle()
	got, c := b.attention(), b.stage.Camera()
	if len(got.Sections) != 1 || got.Sections[0] != at.Sections[0] || !got.Hidden["lid"] || got.Page != desk.Heats || got.Measures || !got.Shells || !b.menu.shells.Checked {
		t.Errorf("left %+v, found %+v", at, got)
	}
	if c.Target != left.Target || c.DistMM != left.DistMM || c.AzimuthRad-left.AzimuthRad > 1e-12 || left.AzimuthRad-c.AzimuthRad > 1e-12 {
		t.Errorf("left looking from %+v, found %+v", left, c)
	}
	if again := b.menu.recent.ChildMenu.Items; len(again) != 1 || again[0].Label != "Other  ("+shortPath(second)+")" {
		t.Errorf("to be opened again: %+v", again)
	}
	kept, err := settings.Load(b.o.SettingsDir)
	if err != nil {
		t.Fatal(err)
	}
	if v, ok := kept.ViewOf(first); !ok || len(v.Cuts) != 1 || len(kept.Views) != 2 {
		t.Errorf("on the disk: %+v", kept.Views)
	}
}
