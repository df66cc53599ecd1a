package dist

import (
	"context"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// The long facets of a rod lie for nearly all of their length outside the
// slender one that they run along; that must not use up the search before the
// depth is known as well as depthToMM and depthToRatio ask.
func TestDepthOfLongFacetsIsKnown(t *testing.T) {
	long := Body{Tree: bvh.Build(rod(20, -700, 700, 32)), Pose: geom.Identity(), Closed: true}
	for _, turnRad := range []float64{0.05, 0.2, 0.8} {
		short := Body{
			Tree: bvh.Build(rod(8, -75, 75, 32)), Closed: true,
			Pose: geom.Pose{R: rotation(turnRad, geom.Vec{1, 0, 0}), T: geom.Vec{25, 0, 0}},
		}
		r, err := Between(context.Background(), long, short, Options{Overlap: true})
		if err != nil || !r.Overlap {
			t.Fatalf("%+v %v", r, err)
		}
		if most := max(depthToMM, depthToRatio*r.DepthMM) + 2*r.ErrorMM; r.DepthErrorMM > most {
			t.Errorf("%g rad: depth %g + %g mm, want it known to %g", turnRad, r.DepthMM, r.DepthErrorMM, most)
		}
	}
}
