package bvh

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// Within says what Nearest says, at a hair more and a hair less.
func TestWithinMeetsNearest(t *testing.T) {
	for name, m := range nasty() {
		tree := built(t, m)
		rng := rand.New(rand.NewPCG(71, 0))
		if tree.Within(geom.Vec{}, math.Inf(1)) != (len(m.Tris) > 0) {
			t.Errorf("%s: wrong with no limit", name)
		}
		for range 300 {
			p := tree.Origin().Add(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(60))
			near, ok := tree.Nearest(p, math.Inf(1))
			if !ok {
				continue
			}
			if !tree.Within(p, near.DistMM*(1+1e-9)+1e-300) || tree.Within(p, near.DistMM*(1-1e-9)) {
				t.Fatalf("%s: %v lies %g off, Within says otherwise", name, p, near.DistMM)
			}
		}
	}
}
