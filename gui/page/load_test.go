package page

import (
	"fmt"
	"testing"

	"aftbay/geom/clearance"
	"aftbay/gui/desk"
)

// crowded returns a state with the findings of some 300 parts in four states.
func crowded(t testing.TB, d *desk.Desk) desk.State {
	t.Helper()
	s := d.State()
	r := &clearance.Result{}
	few := s.Answers.Fit.Value.Pairs
	for i := range 180000 {
		p := few[i%len(few)]
		p.A, p.B = fmt.Sprint("part ", i%300), fmt.Sprint("part ", i/300)
		p.ID = fmt.Sprintf("%s ~ %s @ %s", p.A, p.B, p.State)
		r.Pairs = append(r.Pairs, p)
	}
	s.Answers.Fit.Value = r
	return s
}

// lazyHost is a window that never gets to what is to be done beside.
type lazyHost struct {
	hostSpy
	waits []func() func()
}

func (h *lazyHost) Beside(_ string, work func() func()) { h.waits = append(h.waits, work) }

// Whatever looks through the findings is done beside: until that has been done a
// page shows nothing of them, and it asks once, however often it is brought up
// to date.
func TestFindingsAreLookedThroughBeside(t *testing.T) {
	d := bench(t)
	s := crowded(t, d)
	h := &lazyHost{}
	h.at.Finding = s.Answers.Fit.Value.Pairs[1].ID
	fit, see, changes, drawer := NewFit(h), NewSee(h), NewChanges(h), NewDrawer(h)
	update := func() {
		fit.Update(&s, &h.at)
		see.Update(&s, &h.at)
		changes.Update(&s, &h.at)
		drawer.Update(&s, &h.at)
	}
	update()
	asked := len(h.waits)
	for range 3 {
		update()
	}
	if len(h.waits) != asked {
		t.Errorf("asked %d times, then %d times more for the same", asked, len(h.waits)-asked)
	}
	for name, said := range map[string]string{"fit": fit.says.Text + fit.detail.Text + fit.counts.Text, "rear view": see.says.Text + see.detail.Text, "changes": changes.detail.Text, "drawer": drawer.count.Text} {
		if said != "" {
			t.Errorf("%s says %q before anything was worked out beside", name, said)
		}
	}
	if len(fit.Grid.Rows())+len(see.Grid.Rows())+len(drawer.rows) != 0 {
		t.Error("lists have rows before anything was worked out beside")
	}
	for len(h.waits) > 0 {
		work := h.waits[0]
		h.waits = h.waits[1:]
		if show := work(); show != nil {
			show()
		}
	}
	if fit.says.Text == "" || fit.detail.Text == "" || len(fit.Grid.Rows()) == 0 || see.says.Text == "" || len(drawer.rows) == 0 {
		t.Error("what was worked out beside is not shown")
	}
}

// BenchmarkUpdate brings a page up to date on a layout with 180,000 findings.
func BenchmarkUpdate(b *testing.B) {
	d, h := bench(b), &hostSpy{}
	s := crowded(b, d)
	for name, p := range map[string]interface {
		Update(s *desk.State, a *desk.Attention)
	}{
		"fit": NewFit(h), "drop": NewDrop(h), "see": NewSee(h), "heat": NewHeat(h), "spots": NewSpots(h), "changes": NewChanges(h), "drawer": NewDrawer(h),
	} {
		h.at.Finding = s.Answers.Fit.Value.Pairs[179000].ID
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				p.Update(&s, &h.at)
			}
		})
	}
}
