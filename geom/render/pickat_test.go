package render

import (
	"testing"

	"aftbay/geom"
)

// The picture of one pixel tells what the whole picture tells there: parts,
// see-through parts, caps of cuts and background, in perspective and parallel.
func TestPickAtMeetsTheWholePicture(t *testing.T) {
	s, c, o := busy(t)
	o.Supersample = 1
	const w, h, every = 97, 61, 5 // each question projects every corner
	for _, parallel := range []bool{false, true} {
		for _, cuts := range [][]Cut{nil, o.Cuts, {{Point: s.Items[0].Pose.T, Normal: geom.Vec{0, 1, 0}}}} {
			c.Parallel, o.Cuts = parallel, cuts
			f := draw(t, s, c, o, w, h)
			var known Boxes
			asked, hits, caps := 0, 0, 0
			for y := 0; y < h; y += every {
				for x := y % 3; x < w; x += every {
					asked++
					want, ok := f.Pick(x, y)
					got, found := PickAt(s, c, o, x, y, w, h, &known)
					if found != ok || got.Item != want.Item || got.Triangle != want.Triangle || got.Point.Sub(want.Point).Len() > 1e-9 {
						t.Fatalf("pixel %d, %d, parallel %v, %d cuts: %+v %v, the picture has %+v %v", x, y, parallel, len(cuts), got, found, want, ok)
					}
					if ok {
						hits++
					}
					if ok && want.Triangle < 0 {
						caps++
					}
				}
			}
			if hits < asked/20 || hits == asked || len(cuts) > 0 && caps == 0 {
				t.Errorf("parallel %v, %d cuts: %d of %d pixels hit something, %d a cap: the scene tests too little", parallel, len(cuts), hits, asked, caps)
			}
		}
	}
	if _, ok := PickAt(s, c, o, w, 0, w, h, &Boxes{}); ok {
		t.Error("a place outside the picture shows something")
	}
}

func BenchmarkPickAt(b *testing.B) {
	s := bay(b)
	c := NewCamera().FitPoints(s.Corners(), 1200, 800)
	var known Boxes
	for b.Loop() {
		PickAt(s, c, Options{}, 600, 400, 1200, 800, &known)
	}
}
