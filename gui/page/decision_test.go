package page

import (
	"errors"
	"testing"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
)

// TestADecisionIsTyped: choose a finding, type, keep; a refusal is shown.
func TestADecisionIsTyped(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewFit(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	f := p.Decides
	if !f.Hidden {
		t.Error("the form shows without a finding")
	}
	p.Grid.list.Select(0)
	p.Update(&s, &h.at)
	if f.Hidden || !f.Settle.Disabled() {
		t.Fatalf("hidden %v, nothing typed but can be kept %v", f.Hidden, !f.Settle.Disabled())
	}
	f.State.SetSelected("open")
	f.Owner.SetText("deck group")
	f.Due.SetText("soon")
	h.refuse = errors.New("due: give a day")
	f.Settle.OnTapped()
	want := layout.Decision{Finding: h.at.Finding, State: "open", Owner: "deck group", Due: "soon"}
	if len(h.decided) != 1 || !desk.SameDecision(h.decided[0], want) || f.fault.Hidden || f.fault.Text != "due: give a day" {
		t.Errorf("decided %+v, fault %q", h.decided, f.fault.Text)
	}
	p.Update(&s, &h.at)
	if f.Due.Text != "soon" {
		t.Error("an update took away what is being typed")
	}
}

func TestChangesAskWhatToCompareWith(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewChanges(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	p.With.OnTapped()
	if h.compared != 1 {
		t.Error("the button asks nothing")
	}
}
