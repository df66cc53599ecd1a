package clearance

import (
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// TestMovingProperties on random turned bricks: a moving pair is never further
// apart than at rest, and a larger motion box never leaves more room, each
// within the stated errors.
func TestMovingProperties(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 11))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	for trial := range 25 {
		doc := &layout.Document{
			Parts: []layout.Part{
				{Name: "a", Role: "x", Mesh: "a.stl", Group: "g", TurnDeg: geom.Vec{in(180), in(90), in(180)}},
				{Name: "b", Role: "y", Mesh: "b.stl", Group: "h", TurnDeg: geom.Vec{in(180), in(90), in(180)}, MoveMM: geom.Vec{190 + in(30), in(60), in(60)}},
			},
			Groups: []layout.Group{{Name: "g", PivotMM: geom.Vec{in(150), in(150), in(150)}}, {Name: "h", PivotMM: geom.Vec{in(150), in(150), in(150)}}},
			Rules:  []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 20}},
		}
		meshes := map[string]*mesh.Mesh{
			"a.stl": plain.Brick(geom.Vec{-40, -25, -10}, geom.Vec{40, 25, 10}),
			"b.stl": plain.Brick(geom.Vec{-30, -30, -30}, geom.Vec{30, 20, 10}),
		}
		var last *Pair
		for step := range 3 {
			size := float64(step)
			doc.Groups[0].Motion = &layout.Motion{
				XMM: layout.Range{-2 * size, 3 * size}, ZMM: layout.Range{-size, 0}, RollDeg: layout.Range{-2 * size, size}, YawDeg: layout.Range{0, size},
			}
			doc.Groups[1].Motion = &layout.Motion{YMM: layout.Range{-size, size}, PitchDeg: layout.Range{-size, 2 * size}}
			r := run(t, fixture.Scene(t, doc, meshes), Options{})
			p, rest := find(t, r, "a ~ b @ moving"), find(t, r, "a ~ b @ static")
			if p.ClearanceMM-p.ErrorMM > rest.ClearanceMM+1e-9 {
				t.Errorf("trial %d: moving %.4f ± %.4f, at rest %.4f", trial, p.ClearanceMM, p.ErrorMM, rest.ClearanceMM)
			}
			if last != nil && p.ClearanceMM-p.ErrorMM > last.ClearanceMM+1e-9 {
				t.Errorf("trial %d: a larger box leaves more room: %.4f ± %.4f after %.4f", trial, p.ClearanceMM, p.ErrorMM, last.ClearanceMM)
			}
			last = &p
		}
	}
}
