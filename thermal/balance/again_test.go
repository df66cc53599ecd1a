package balance

import (
	"context"
	"encoding/json"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// A part that moves: only rays that it can change are traced again, and the
// answer is the same to the last bit as without the answer before. So for a
// turn, for a second move, for other temperatures, for a part of a solid that
// comes to lie in another, and for a shield on trial.
func TestMovedPartIsTracedAlone(t *testing.T) {
	bodies := bay(t)
	bodies = append(bodies,
		body{layout.Part{Name: "box", MoveMM: geom.Vec{400, 0, 0}}, brick(geom.Vec{80, 60, 50})},
		body{layout.Part{Name: "post", MoveMM: geom.Vec{400, 200, 0}}, sphere(40)})
	first := stand(t, bayHeat(), bodies...)
	before := solve(t, first)
	if before.Traced < before.Rays {
		t.Errorf("the first answer traces %d of %d rays", before.Traced, before.Rays)
	}
	coil, _ := first.Index("coil")
	post, _ := first.Index("post")
	shifted := first.Placed(coil, geom.Shift(geom.Vec{8, 45, -3}))
	steps := map[string]*scene.Scene{
		"coil moves":      shifted,
		"coil turns":      first.Placed(coil, geom.About(geom.Vec{0, 40, 0}, geom.Turn(geom.Vec{0.1, 0.2, -0.3}), geom.Vec{0, 4, 0})),
		"post into a box": first.Placed(post, geom.Shift(geom.Vec{400, 10, 0})),
		"nothing moves":   first,
	}
	for name, s := range steps {
		again := check(t, name, s, before)
		if again.Traced > again.Rays*2/3 {
			t.Errorf("%s: %d of %d rays are traced again", name, again.Traced, again.Rays)
		}
		if name == "nothing moves" && again.Traced != 0 {
			t.Errorf("nothing moves, but %d rays are traced", again.Traced)
		}
		check(t, name+", and back", first, again)
	}
	finer := *first.Doc
	finer.Heat = bayHeat()
	finer.Heat.Rays = new(300)
	other := *first
	other.Doc = &finer
	if again := check(t, "more rays", &other, before); again.Traced < again.Rays {
		t.Errorf("with more rays only %d of %d are traced", again.Traced, again.Rays)
	}
}

// check compares an answer that builds on another with one that does not.
func check(t *testing.T, name string, s *scene.Scene, before *Result) *Result {
	t.Helper()
	fresh := solve(t, s)
	again, err := Run(context.Background(), s, Options{Prev: before, Workers: 3}, nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := json.Marshal([]any{fresh, fresh.Factors(), fresh.IrradiationField(0)})
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal([]any{again, again.Factors(), again.IrradiationField(0)})
	if err != nil {
		t.Fatal(err)
	}
	if string(a) != string(b) {
		t.Errorf("%s: the answer that builds on another differs", name)
	}
	return again
}
