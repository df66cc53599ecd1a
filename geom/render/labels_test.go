package render

import (
	"image"
	"math/rand/v2"
	"strings"
	"testing"
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
