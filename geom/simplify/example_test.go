package simplify_test

import (
	"context"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/simplify"
)

func ExampleTo() {
	flat := plain.Sheet(20, 10, func(u, v float64) geom.Vec { return geom.Vec{200 * u, 100 * v, 0} })
	coarse, r, _ := simplify.To(context.Background(), flat, 0.1)
	fmt.Printf("%d triangles became %d, within %g mm\n", len(flat.Tris), len(coarse.Tris), r.BoundMM)
	// Output: 400 triangles became 2, within 0.1 mm
}
