package radiate_test

import (
	"context"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/thermal/patch"
	"aftbay/thermal/radiate"
)

// Two unit squares face each other one metre apart: F = 0.1998 (C-11 of Howell's
// catalog, closed form).
func ExampleTrace() {
	square := func(z float64, up bool) *mesh.Mesh {
		m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, z}, {1000, 0, z}, {1000, 1000, z}, {0, 1000, z}}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
		if !up {
			m.Tris = [][3]int32{{0, 2, 1}, {0, 3, 2}}
		}
		return m
	}
	set, err := patch.Build([]patch.Body{
		{Name: "below", Mesh: square(0, true), Pose: geom.Identity()},
		{Name: "above", Mesh: square(1000, false), Pose: geom.Identity()},
	}, patch.Options{EdgeMM: 100})
	if err != nil {
		fmt.Println(err)
		return
	}
	factors, err := radiate.Trace(context.Background(), set, bvh.BuildRays(set.Mesh), radiate.Options{Seed: 1}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", factors.Table().Factor[0][1])
	// Output:
	// 0.200
}
