package render

import (
	"image"
	"math/rand/v2"
	"strings"
	"testing"

	"aftbay/geom"
)

// Many labels close together: no plate covers another, and those that find no
// place are left out.
func TestLabelsDoNotOverlap(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for round := range 20 {
		w, err := newWriter(image.NewRGBA(image.Rect(0, 0, 640, 480)), 12, false)
		if err != nil {
			t.Fatal(err)
		}
		p := &painter{f: &Frame{samples: 1, view: NewCamera().sized(640, 480)}, scene: &Scene{}}
		const n = 30
		for range n {
			at, _ := NewCamera().Sight(120+400*rng.Float64(), 120+240*rng.Float64(), 640, 480)
			_, dir := NewCamera().Sight(120+400*rng.Float64(), 120+240*rng.Float64(), 640, 480)
			p.label(w, Label{At: at.Add(dir.Mul(3000)), Text: strings.Repeat("m", 3+rng.IntN(14))})
		}
		for i, a := range w.taken {
			for _, b := range w.taken[:i] {
				if a.rightPx > b.leftPx+1e-9 && a.leftPx < b.rightPx-1e-9 && a.bottomPx > b.topPx+1e-9 && a.topPx < b.bottomPx-1e-9 {
					t.Fatalf("round %d: plates %v and %v", round, a, b)
				}
			}
		}
		crossed := 0
		for i, l := range w.leaders {
			for _, o := range w.leaders[:i] {
				if crosses(l, o) {
					crossed++
				}
			}
		}
		if len(w.taken) < n*2/3 || crossed > 8 {
			t.Errorf("round %d: %d of %d labels written, %d leaders cross", round, len(w.taken), n, crossed)
		}
	}
}

// Many dimension lines close together: their figures cover neither each other nor
// the ends of the lines.
func TestFiguresDoNotOverlap(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	w, err := newWriter(image.NewRGBA(image.Rect(0, 0, 640, 480)), 14, false)
	if err != nil {
		t.Fatal(err)
	}
	p := &painter{f: &Frame{samples: 1, view: NewCamera().sized(640, 480)}, scene: &Scene{}}
	var list []Witness
	for range 12 {
		at := geom.Vec{rng.Float64(), rng.Float64(), rng.Float64()}.Mul(300)
		list = append(list, Witness{From: at, To: at.Add(geom.Vec{5, 10, 15}), Text: "12.34 mm, moving"})
	}
	p.witnesses(w, list)
	ends, figures := w.taken[:24], w.taken[24:]
	if len(figures) < 10 {
		t.Errorf("%d figures of 12", len(figures))
	}
	for i, a := range figures {
		for _, b := range append(append([]area(nil), ends...), figures[:i]...) {
			if a.rightPx > b.leftPx+1e-9 && a.leftPx < b.rightPx-1e-9 && a.bottomPx > b.topPx+1e-9 && a.topPx < b.bottomPx-1e-9 {
				t.Errorf("figure %v covers %v", a, b)
			}
		}
	}
}
