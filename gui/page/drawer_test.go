package page

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2/test"

	"aftbay/geom"
)

func TestDrawerSearchesAndHides(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	w := NewDrawer(h)
	shown(t, w, 300, 700)
	s := d.State()
	w.Update(&s, &h.at)
	if len(w.rows) != 4 || w.count.Text != "4 parts" || w.rows[0].Verdict != "short" {
		t.Fatalf("%q, rows %+v", w.count.Text, w.rows)
	}
	w.Search.SetText("EXH pi")
	if len(w.rows) != 1 || w.rows[0].Name != "pipe" || w.count.Text != "1 of 4 parts" {
		t.Fatalf("search: %q, %+v", w.count.Text, w.rows)
	}
	w.list.Select(0)
	if len(h.at.Selected) != 1 || h.at.Selected[0] != "pipe" {
		t.Fatalf("selected %v", h.at.Selected)
	}
	w.Update(&s, &h.at)
	test.Tap(w.HidePart)
	if !h.at.Hidden["pipe"] || len(h.at.Selected) != 0 {
		t.Errorf("after hide: %+v", h.at)
	}
	w.Update(&s, &h.at)
	if !w.HidePart.Disabled() || w.ShowAll.Disabled() {
		t.Error("the buttons do not follow what is selected and hidden")
	}
	test.Tap(w.ShowAll)
	h.at.Select("block", false)
	w.Update(&s, &h.at)
	test.Tap(w.Isolate)
	if len(h.at.Hidden) != 3 || h.at.Hidden["block"] {
		t.Errorf("isolated: %v", h.at.Hidden)
	}
}

func TestPartFormPlaces(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	f := NewPartForm(h)
	shown(t, f, 300, 400)
	s := d.State()
	h.at.Select("lid", false)
	f.Update(&s, &h.at)
	if f.Fields[2].Text != "0.00" || !f.Place.Disabled() {
		t.Fatalf("z %q, place disabled %v", f.Fields[2].Text, f.Place.Disabled())
	}
	f.Fields[2].SetText("high")
	if f.fault.Hidden || !f.Place.Disabled() {
		t.Errorf("nonsense is not refused: %q", f.fault.Text)
	}
	f.Fields[2].SetText("1 in")
	if !f.fault.Hidden || f.Place.Disabled() {
		t.Errorf("1 in is refused: %q", f.fault.Text)
	}
	f.Update(&s, &h.at)
	if f.Fields[2].Text != "1 in" {
		t.Errorf("an update wiped what was typed: %q", f.Fields[2].Text)
	}
	h.refuse = errors.New("not there")
	test.Tap(f.Place)
	if h.posed != "lid" || h.moveMM != (geom.Vec{0, 0, 25.4}) || f.fault.Text != "not there" {
		t.Errorf("posed %q at %v, fault %q", h.posed, h.moveMM, f.fault.Text)
	}
	h.at.Selected = nil
	f.Update(&s, &h.at)
	if !f.content.Hidden {
		t.Error("the form stays without a part")
	}
}
