package dist_test

import (
	"context"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/mesh"
)

// wedge returns a tetrahedron with three edges of 10 mm along the axes.
func wedge() *mesh.Mesh {
	return &mesh.Mesh{
		Verts: []geom.Vec{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 0, 10}},
		Tris:  [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

func ExampleBetween() {
	tree := bvh.Build(wedge())
	a := dist.Body{Tree: tree, Pose: geom.Identity(), Closed: true}
	b := dist.Body{Tree: tree, Pose: geom.Shift(geom.Vec{12, 0, 0}), Closed: true}

	r, err := dist.Between(context.Background(), a, b, dist.Options{})
	fmt.Printf("gap %g mm from %v to %v, error below 1e-9 mm: %v, %v\n", r.GapMM, r.PointA, r.PointB, r.ErrorMM < 1e-9, err)

	b.Pose = geom.Shift(geom.Vec{4, 0, 0})
	r, err = dist.Between(context.Background(), a, b, dist.Options{Overlap: true})
	fmt.Printf("overlap %v, shared volume %.3f mm3, %v\n", r.Overlap, *r.VolumeMM3, err)
	// Output:
	// gap 2 mm from [10 0 0] to [12 0 0], error below 1e-9 mm: true, <nil>
	// overlap true, shared volume 36.000 mm3, <nil>
}
