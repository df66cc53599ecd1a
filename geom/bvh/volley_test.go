package bvh

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Volleys of any number of rays, some of which miss the mesh's box, meet what
// each ray meets by itself; in a tree too deep for volleys too.
func TestVolleysOfEverySize(t *testing.T) {
	m := read(t, "mech_gear40.stl")
	tree := BuildRays(m)
	maker := rayMaker{m, m.Box(), rand.New(rand.NewPCG(14, 0))}
	rays := make([]Ray, 3*volleyShots)
	for i := range rays {
		rays[i] = maker.next()
	}
	same := func(t *testing.T, rays []Ray) (met int) {
		hits := make([]Hit, len(rays))
		tree.CastAll(rays, hits)
		for i, r := range rays {
			h, ok := tree.Cast(r)
			if ok != (hits[i].Tri >= 0) || ok && h != hits[i] {
				t.Fatalf("%d rays: number %d meets %+v %v, in the volley %+v", len(rays), i, h, ok, hits[i])
			}
			if ok {
				met++
			}
		}
		return met
	}
	for _, n := range []int{0, 1, 2, 15, 19, 20, 21, 31, volleyShots - 1, volleyShots, volleyShots + 1, len(rays)} {
		same(t, rays[:n])
	}
	if !HasAVX2() {
		return
	}
	if !tree.wide.flies() {
		t.Error("the gear's tree has no volleys")
	}
	depth := tree.wide.depth
	for tree.wide.flies() {
		tree.wide.depth++
	}
	if tree.wide.depth < 2*depth {
		t.Errorf("volleys end at %d levels; the gear alone has %d", tree.wide.depth, depth)
	}
	if met := same(t, rays); met < len(rays)/4 {
		t.Errorf("only %d of %d rays meet the gear", met, len(rays))
	}
}

// Four rays made ready at once are what each is by itself, to the last bit.
func TestAimFour(t *testing.T) {
	if !HasAVX2() {
		t.Skip("this processor has no wide walk")
	}
	m := read(t, "mech_gear40.stl")
	tree := BuildRays(m)
	f := tree.frame()
	rays := rayMaker{m, m.Box(), rand.New(rand.NewPCG(15, 0))}
	common := 0
	for range 20000 {
		var four [4]Ray
		var got [4]flight
		for k := range four {
			four[k] = rays.next()
			if rays.rng.IntN(4) > 0 {
				four[k].NearMM = 0
			}
			if rays.rng.IntN(8) == 0 {
				four[k].Dir[rays.rng.IntN(3)] = 0
			}
			if rays.rng.IntN(8) == 0 { // no main axis
				four[k].Dir[1] = -four[k].Dir[0]
			}
		}
		aimed := aimFour(&four[0], &got[0], &f)
		for k := range four {
			if aimed>>k&1 == 0 {
				continue
			}
			common++
			var s shot
			if !s.aim(&tree.origin, &tree.root, &four[k]) {
				t.Fatalf("ray %+v misses the mesh, and was made ready", four[k])
			}
			s.widen()
			var want flight
			want.set(&s)
			if got[k] != want {
				t.Fatalf("ray %+v:\n%+v, by itself\n%+v", four[k], got[k], want)
			}
		}
	}
	if common < 10000 {
		t.Errorf("only %d of 80000 rays were of the common kind", common)
	}
	t.Logf("%d of 80000 rays were of the common kind", common)
	// The usual ray of view factors is.
	box := tree.Box()
	ray := Ray{Origin: box.Center(), Dir: box.Max.Sub(box.Min), FarMM: math.Inf(1)}
	four, got := [4]Ray{ray, ray, ray, ray}, [4]flight{}
	if aimed := aimFour(&four[0], &got[0], &f); aimed != 15 {
		t.Errorf("of four plain rays %04b are made ready", aimed)
	}
}
