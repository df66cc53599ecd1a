package dist

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// TestPlaneBetween: what it says of two triangles is never more than their
// distance, to within rounding; and it says something of most.
func TestPlaneBetween(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 0))
	point := func(sizeMM float64) geom.Vec {
		return geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(sizeMM)
	}
	told, all := 0, 0
	for range 200000 {
		var a, b bvh.Triangle
		apartMM := math.Pow(10, float64(rng.IntN(7)-3))
		far, sizeMM := point(1000), math.Pow(10, float64(rng.IntN(5)-2))
		shift := point(apartMM)
		for k := range 3 {
			a[k], b[k] = far.Add(point(sizeMM)), far.Add(point(sizeMM)).Add(shift)
		}
		switch rng.IntN(8) {
		case 0:
			a[2] = a[0].Add(a[1]).Mul(0.5) // no area
		case 1:
			b[1], b[2] = b[0], b[0] // a point
		case 2:
			b[0], b[1] = a[0], a[1] // a common edge
		case 3:
			a[0][2], a[1][2], a[2][2], b[0][2], b[1][2], b[2][2] = 0, 0, 0, 0, 0, 0 // one plane
		}
		trueMM := math.Sqrt(triangles(&a, &b).distMM2)
		var largestMM float64
		for k := range 3 {
			largestMM = max(largestMM, a[k].Len(), b[k].Len())
		}
		roundMM := 2 * tieSteps * 0x1p-53 * largestMM // of both triangles
		if planeBetween(&a, &b, trueMM+roundMM) {
			t.Fatalf("%v and %v stand %.15g mm apart, not more", a, b, trueMM)
		}
		if trueMM > 0 {
			all++
			if planeBetween(&a, &b, 0.9*trueMM) {
				told++
			}
		}
	}
	if told < all*7/10 {
		t.Errorf("%d of %d pairs told apart by nine tenths of their distance", told, all)
	}
}
