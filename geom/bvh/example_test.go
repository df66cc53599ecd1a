package bvh_test

import (
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// A square plate of 20 mm in the plane z = 0.
func plate() *mesh.Mesh {
	return &mesh.Mesh{
		Verts: []geom.Vec{{-10, -10, 0}, {10, -10, 0}, {10, 10, 0}, {-10, 10, 0}},
		Tris:  [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
}

func ExampleTree_FirstHit() {
	tree := bvh.Build(plate())
	hit, ok := tree.FirstHit(geom.Vec{3, -2, 50}, geom.Vec{0, 0, -1}, 1000)
	fmt.Printf("%v: triangle %d after %g mm, from the inner side: %v\n", ok, hit.Tri, hit.DistMM, hit.Back)
	// Output: true: triangle 0 after 50 mm, from the inner side: false
}

func ExampleTree_Nearest() {
	tree := bvh.Build(plate())
	near, _ := tree.Nearest(geom.Vec{13, 5, 4}, math.Inf(1))
	fmt.Printf("%g mm to %v\n", near.DistMM, near.Point)
	// Output: 5 mm to [10 5 0]
}
