package bvh

import (
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
	for _, n := range []int{0, 1, 2, 15, 16, 17, 31, volleyShots - 1, volleyShots, volleyShots + 1, len(rays)} {
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
