package desk

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/render"
	"aftbay/geom/scene/fixture"
)

// A small part in a box that is open to the left alone: only from there it is
// seen, unless what stands before it is hidden or see-through.
func TestVantageLooksPastWhatStandsBefore(t *testing.T) {
	wall := func(x0, y0, z0, x1, y1, z1 float64) *mesh.Mesh { // Bare numbers: corners in mm
		return plain.Brick(geom.Vec{x0, y0, z0}, geom.Vec{x1, y1, z1})
	}
	s := &State{Scene: fixture.Scene(t, &layout.Document{Parts: []layout.Part{
		{Name: "coil", Role: "coil", Mesh: "coil.stl"},
		{Name: "rear", Role: "engine", Mesh: "rear.stl"},
		{Name: "front", Role: "engine", Mesh: "front.stl"},
		{Name: "right", Role: "engine", Mesh: "right.stl"},
		{Name: "top", Role: "engine", Mesh: "top.stl"},
		{Name: "floor", Role: "engine", Mesh: "floor.stl"},
	}}, map[string]*mesh.Mesh{
		"coil.stl":  wall(-20, -20, -20, 20, 20, 20),
		"rear.stl":  wall(100, -150, -100, 110, 110, 100),
		"front.stl": wall(-110, -150, -100, -100, 110, 100),
		"right.stl": wall(-100, 100, -100, 100, 110, 100),
		"top.stl":   wall(-110, -150, 100, 110, 110, 110),
		"floor.stl": wall(-110, -150, -110, 110, 110, -100),
	})}
	for _, parallel := range []bool{false, true} {
		c := render.NewCamera()
		c.DistMM, c.Parallel = 1200, parallel
		a := &Attention{Selected: []string{"coil"}}
		if InSight(s, a, a.Selected, c) {
			t.Fatal("seen through the walls")
		}
		to := Vantage(s, a, a.Selected, c)
		if !InSight(s, a, a.Selected, to) || math.Sin(to.AzimuthRad) > -0.8 || to.Target != c.Target || to.DistMM != c.DistMM {
			t.Errorf("parallel %v: looks from %v about %v", parallel, to.AzimuthRad, to.Target)
		}
		if again := Vantage(s, a, a.Selected, to); again != to {
			t.Error("a view that shows the part is left")
		}
		for name, open := range map[string]*Attention{
			"hidden":      {Selected: a.Selected, Hidden: map[string]bool{"rear": true, "top": true, "right": true}},
			"see-through": {Selected: a.Selected, Ghost: true},
		} {
			if got := Vantage(s, open, a.Selected, c); got != c {
				t.Errorf("%s walls hide nothing, but the view turns to %v", name, got)
			}
		}
	}
	if c := render.NewCamera(); Vantage(s, &Attention{}, []string{"gone"}, c) != c {
		t.Error("turned for nothing")
	}
}
