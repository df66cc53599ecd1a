package desk

import (
	"testing"

	"aftbay/geom"
	"aftbay/geom/render"
)

func TestDistancesOfWhatFails(t *testing.T) {
	d := opened(t)
	s := d.State()
	painter := NewPainter()
	a := Attention{Gaps: true}
	p := painter.Picture(&s, &a)
	// The lid is 12 mm over the block, asked 15: short. The worst state alone is shown.
	if w := p.Overlay.Witnesses; len(w) == 0 || w[0].Text != "12.00 mm" || w[0].Color != render.ShortColor || w[0].From.Sub(w[0].To).Len() != 12 {
		t.Fatalf("distances %+v", w)
	}
	seen := map[[2]geom.Vec]bool{}
	for _, w := range p.Overlay.Witnesses {
		if seen[[2]geom.Vec{w.From, w.To}] {
			t.Errorf("twice: %+v", w)
		}
		seen[[2]geom.Vec{w.From, w.To}] = true
	}
	a.Select("block", false)
	if own := painter.Picture(&s, &a).Overlay.Witnesses; len(own) < 2 {
		t.Errorf("of the block: %+v", own)
	}
	a.Hide("lid", true)
	for _, w := range painter.Picture(&s, &a).Overlay.Witnesses {
		if w.Text == "12.00 mm" {
			t.Error("the distance to a hidden part is shown")
		}
	}
	a = Attention{Gaps: true, Finding: "block ~ lid @ static"}
	if own := painter.Picture(&s, &a).Overlay.Witnesses; len(own) != 1 {
		t.Errorf("beside a finding: %+v", own)
	}
	if KeyOf(&s, &Attention{Gaps: true}) == KeyOf(&s, &Attention{}) {
		t.Error("the key does not tell the pictures apart")
	}
}
