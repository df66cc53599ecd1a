package radiate

import (
	"context"
	"slices"
	"testing"

	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// The eight-wide tree and the plain one, which other processors walk, give the
// same factors to the last bit for any number of workers: where parts run into one another, and where
// patches see each other whole.
func TestSameFactorsOnEveryProcessor(t *testing.T) {
	for name, c := range map[string]struct {
		bodies []patch.Body
		o      patch.Options
	}{
		"bay": {bay(t), patch.Options{EdgeMM: 60, MostPatches: 300}},
		"box": {bodies(boxSheets(1000, 600, 400)...), patch.Options{EdgeMM: 200}},
	} {
		set, err := patch.Build(c.bodies, c.o)
		if err != nil {
			t.Fatal(err)
		}
		fast, plain := bvh.BuildRays(set.Mesh), bvh.Plain(set.Mesh)
		if !fast.IsWide() {
			t.Skip("this processor has no wide walk")
		}
		var got [2]*Factors
		for i, tree := range []*bvh.RayTree{fast, plain} {
			if got[i], err = Trace(context.Background(), set, tree, Options{Rays: 64, Seed: 1, Workers: 1 + 6*i}, nil); err != nil {
				t.Fatal(err)
			}
		}
		a, b := got[0], got[1]
		if !slices.Equal(a.To, b.To) || !slices.Equal(a.Value, b.Value) || !slices.Equal(a.Away, b.Away) || !slices.Equal(a.BuriedShare, b.BuriedShare) || a.Exact != b.Exact {
			t.Errorf("%s: the factors differ between the trees", name)
		}
		t.Logf("%s: %d pairs by the contour form", name, a.Exact)
	}
}
