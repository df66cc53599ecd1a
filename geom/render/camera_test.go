package render

import (
	"math"
	"testing"

	"aftbay/geom"
)

// near reports whether two numbers differ by no more than tol.
func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

func TestProjectByHand(t *testing.T) {
	// Eye 1000 mm behind the origin, looking forward (-X). Opening 2·atan(0.5)
	// over 200 px: a slope of 0.5 is 100 px. Worked by similar triangles.
	c := Camera{DistMM: 1000, FieldRad: 2 * math.Atan(0.5)}
	flat := c
	flat.Parallel = true
	for _, x := range []struct {
		name     string
		cam      Camera
		at       geom.Vec
		xPx, yPx float64
	}{
		{"target is the middle", c, geom.Vec{}, 150, 100},
		{"right of the vehicle is right seen from behind", c, geom.Vec{0, 250, 0}, 150 + 50, 100},
		{"up is up", c, geom.Vec{0, 0, 500}, 150, 0},
		{"half as far looks twice as big", c, geom.Vec{500, 0, -125}, 150, 100 + 50},
		{"parallel: depth changes nothing", flat, geom.Vec{500, 0, -125}, 150, 100 + 25},
		{"from the right, forward is right", c.Look(ViewRight), geom.Vec{-250, 0, 0}, 150 + 50, 100},
		{"from the left, forward is left", c.Look(ViewLeft), geom.Vec{-250, 0, 0}, 150 - 50, 100},
		{"from the front, right of the vehicle is left", c.Look(ViewFront), geom.Vec{0, 250, 0}, 150 - 50, 100},
		{"from above, forward is up", c.Look(ViewTop), geom.Vec{-250, 250, 0}, 150 + 50, 100 - 50},
		{"from below, forward is down", c.Look(ViewBottom), geom.Vec{-250, 250, 0}, 150 + 50, 100 + 50},
	} {
		box := geom.EmptyBox().Grow(geom.Vec{-600, -600, -600}).Grow(geom.Vec{600, 600, 600})
		v := newView(x.cam, box, 300, 200)
		xPx, yPx, z, ok := v.project(x.at)
		if !ok || !near(xPx, x.xPx, 1e-9) || !near(yPx, x.yPx, 1e-9) {
			t.Errorf("%s: at (%v, %v, %v), want (%v, %v)", x.name, xPx, yPx, ok, x.xPx, x.yPx)
		}
		// The line of sight through that pixel passes the point, at its depth.
		from, dir := v.ray(xPx, yPx)
		along := x.at.Sub(from).Dot(dir)
		if miss := from.Add(dir.Mul(along)).Sub(x.at).Len(); miss > 1e-9 {
			t.Errorf("%s: line of sight misses by %v mm", x.name, miss)
		}
		if d := v.depthMM(z); !near(d, v.place(x.at)[2], 1e-8) {
			t.Errorf("%s: depth %v, want %v", x.name, d, v.place(x.at)[2])
		}
	}
}

func TestBehindTheEye(t *testing.T) {
	v := newView(Camera{DistMM: 1000, FieldRad: 0.5}, geom.EmptyBox(), 300, 200)
	if _, _, _, ok := v.project(geom.Vec{1200, 0, 0}); ok {
		t.Error("a point behind the eye has no pixel")
	}
}

func TestMovesHoldTheirPoint(t *testing.T) {
	for _, parallel := range []bool{false, true} {
		c := NewCamera()
		c.Parallel, c.Target = parallel, geom.Vec{100, -50, 300}
		p := geom.Vec{200, 80, 150}
		box := geom.EmptyBox().Grow(p).Grow(geom.Vec{})
		before := newView(c, box, 640, 480)
		x0, y0, _, _ := before.project(p)
		check := func(name string, moved Camera, dxPx, dyPx float64) {
			v := newView(moved, box, 640, 480)
			if x, y, _, _ := v.project(p); !near(x, x0+dxPx, 1e-6) || !near(y, y0+dyPx, 1e-6) {
				t.Errorf("parallel %v: %s: moved to (%v, %v), want (%v, %v)", parallel, name, x, y, x0+dxPx, y0+dyPx)
			}
		}
		check("refocus", c.Refocus(p), 0, 0)
		check("zoom in", c.Refocus(p).ZoomAt(x0, y0, 0.5, 640, 480), 0, 0)
		check("zoom out", c.Refocus(p).ZoomAt(x0, y0, 3, 640, 480), 0, 0)
		check("orbit", c.Orbit(p, 0.7, -0.3), 0, 0)
		check("pan", c.Refocus(p).Pan(31, -17, 480), 31, -17)
	}
}

func TestOrbitStopsOverhead(t *testing.T) {
	c := NewCamera().Orbit(geom.Vec{}, 0, 10)
	if c.ElevationRad != math.Pi/2 {
		t.Errorf("elevation %v, want straight down", c.ElevationRad)
	}
}

func TestFitFillsThePicture(t *testing.T) {
	box := geom.Box{Min: geom.Vec{-900, -700, 0}, Max: geom.Vec{400, 700, 900}}
	for view := ViewCorner; view <= ViewBottom; view++ {
		for _, parallel := range []bool{false, true} {
			for _, size := range [][2]int{{800, 600}, {300, 900}} {
				c := NewCamera().Look(view)
				c.Parallel = parallel
				v := newView(c.Fit(box, size[0], size[1]), box, size[0], size[1])
				lo, hi := [2]float64{9e9, 9e9}, [2]float64{-9e9, -9e9}
				for _, p := range box.Corners() {
					x, y, _, ok := v.project(p)
					if !ok {
						t.Fatalf("view %d: corner behind the eye", view)
					}
					lo, hi = [2]float64{min(lo[0], x), min(lo[1], y)}, [2]float64{max(hi[0], x), max(hi[1], y)}
				}
				// The tighter direction is filled to 1/1.08 = 0.926, none more.
				wide, tall := (hi[0]-lo[0])/float64(size[0]), (hi[1]-lo[1])/float64(size[1])
				if fill := max(wide, tall); !near(fill, 1/1.08, 1e-9) && (fill > 1/1.08 || parallel) {
					t.Errorf("view %d parallel %v %v: fills %.4f", view, parallel, size, fill)
				}
				if lo[0] < 0 || lo[1] < 0 || hi[0] > float64(size[0]) || hi[1] > float64(size[1]) {
					t.Errorf("view %d parallel %v %v: box leaves the picture: %v %v", view, parallel, size, lo, hi)
				}
			}
		}
	}
	if c := NewCamera(); c.Fit(geom.EmptyBox(), 10, 10) != c {
		t.Error("an empty box must change nothing")
	}
}
