package bvh

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// TestFurthest: the tree finds the number that the plain loop over all corners
// finds, to the last bit.
func TestFurthest(t *testing.T) {
	rng := rand.New(rand.NewPCG(37, 0))
	for name, m := range nasty() {
		tree := Build(m)
		for i := range 200 {
			along := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			if i < 3 {
				along = geom.Vec{}
				along[i] = -1
			}
			want := math.Inf(-1)
			for _, tri := range m.Tris {
				for _, v := range tri {
					want = max(want, along.Dot(m.Verts[v]))
				}
			}
			if got := tree.Furthest(along); got != want {
				t.Fatalf("%s along %v: %.17g, want %.17g", name, along, got, want)
			}
		}
	}
}
