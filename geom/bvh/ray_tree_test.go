package bvh

import (
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// The tree for rays alone meets what the whole tree meets, on every nasty mesh.
func TestRayTreeMeetsTheSame(t *testing.T) {
	for name, m := range nasty() {
		whole, rays := Build(m), BuildRays(m)
		if whole.Box() != rays.Box() {
			t.Errorf("%s: box %v, want %v", name, rays.Box(), whole.Box())
		}
		rng := rand.New(rand.NewPCG(11, 0))
		box := m.Box()
		for range 300 {
			origin := box.Center().Add(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(box.DiagonalMM() / 4))
			dir := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			farMM := 2 * box.DiagonalMM()
			want, met := whole.FirstHit(origin, dir, farMM)
			got, ok := rays.FirstHit(origin, dir, farMM)
			if ok != met || got != want {
				t.Fatalf("%s: %+v %v, want %+v %v", name, got, ok, want, met)
			}
			if again, ok := rays.Cast(Ray{Origin: origin, Dir: dir, FarMM: farMM}); ok != met || again != want {
				t.Fatalf("%s: cast %+v %v, want %+v %v", name, again, ok, want, met)
			}
		}
	}
}
