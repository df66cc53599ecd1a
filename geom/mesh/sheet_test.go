package mesh_test

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// arc returns a sheet bent about Z over an angle, 1 mm of radius, 2 mm high.
func arc(angleRad float64) *mesh.Mesh {
	const steps = 64
	m := &mesh.Mesh{}
	for i := range steps + 1 {
		sin, cos := math.Sincos(angleRad * float64(i) / steps)
		m.Verts = append(m.Verts, geom.Vec{cos, sin, 0}, geom.Vec{cos, sin, 2})
	}
	for i := int32(0); i < 2*steps; i += 2 {
		m.Tris = append(m.Tris, [3]int32{i, i + 2, i + 3}, [3]int32{i, i + 3, i + 1})
	}
	return m
}

// TestIsSheet: the area vectors of an arc add up to chord over arc length of its
// area: 2/π for half a tube, nearly nothing for a whole one.
func TestIsSheet(t *testing.T) {
	for _, c := range []struct {
		name string
		m    *mesh.Mesh
		want bool
	}{
		{"nearly flat", arc(0.1), true},
		{"half a tube", arc(math.Pi), true},
		{"a slit tube", arc(0.95 * 2 * math.Pi), false},
		{"a torus that lacks facets", load(t, "shapes_open/bad_holes.stl"), false},
		{"a closed torus", load(t, "shapes_open/torus_a.stl"), false},
		{"nothing", &mesh.Mesh{}, false},
	} {
		if got := mesh.IsSheet(c.m); got != c.want {
			t.Errorf("%s: sheet %v, want %v", c.name, got, c.want)
		}
	}
}
