package dist

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh/plain"
)

// TestNothingAllocated: a question about two prepared bodies that are apart, and
// one about a body inside another, takes no memory from the heap; nor does the
// bound over a box of shifts and turns of both.
func TestNothingAllocated(t *testing.T) {
	a := bodyOf(readMesh(t, meshDir+"/mech_gear40.stl"), geom.Pose{R: geom.Turn(geom.Vec{0.3, 0.2, 0.1})})
	b := bodyOf(readMesh(t, meshDir+"/brk_spider.stl"), geom.Shift(geom.Vec{160, 40, 10}))
	small := bodyOf(plain.Brick(geom.Vec{}, geom.Vec{1, 1, 1}), geom.Identity())
	big := bodyOf(plain.Brick(geom.Vec{-50, -50, -50}, geom.Vec{50, 50, 50}), geom.Identity())
	turns := Turns{Pivot: geom.Vec{0, 0, -150}, About: [3]Turn{{geom.Vec{1, 0, 0}, 0.05}, {geom.Vec{0, 1, 0}, 0.02}, {geom.Vec{0, 0, 1}, 0.02}}}
	shift := geom.Box{Min: geom.Vec{-10, -5, -8}, Max: geom.Vec{10, 5, 8}}
	ask := func(a, b Body, o Options, overlap bool) func() {
		return func() {
			if r, err := Between(t.Context(), a, b, o); err != nil || r.Overlap != overlap {
				t.Fatalf("%+v, %v", r, err)
			}
		}
	}
	sweep := func(m Sweep, enoughMM float64) func() {
		return func() {
			if r := Swept(a, b, m, enoughMM); r.LowMM <= 0 {
				t.Fatalf("%+v", r)
			}
		}
	}
	for _, c := range []struct {
		name string
		run  func()
	}{
		{"exact", ask(a, b, Options{}, false)},
		{"exact, with what is shared", ask(a, b, Options{Overlap: true}, false)},
		{"at least 5 mm", ask(a, b, Options{EnoughMM: 5}, false)},
		{"at least 500 mm", ask(a, b, Options{EnoughMM: 500}, false)},
		{"one inside the other", ask(big, small, Options{}, true)},
		{"one inside the other, at least 5 mm", ask(small, big, Options{EnoughMM: 5}, true)},
		{"swept, shift", sweep(Sweep{Shift: shift}, math.Inf(1))},
		{"swept, turns of both", sweep(Sweep{Shift: shift, TurnA: turns, TurnB: turns}, math.Inf(1))},
		{"swept, at least 1 mm", sweep(Sweep{Shift: shift, TurnA: turns}, 1)},
	} {
		if n := testing.AllocsPerRun(5, c.run); n != 0 {
			t.Errorf("%s: %g allocations", c.name, n)
		}
	}
}
