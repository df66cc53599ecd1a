package bvh

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// Along any ray from outside, what is met of a closed mesh alternates: in, out,
// in, out, and ends outside; 1e5 mm from the origin too. Rays aimed at corners
// and edges meet several triangles in one place, so steps nearer than that are
// taken together.
func TestRaysGoInAndOut(t *testing.T) {
	for _, f := range []string{"shapes_open/torus_far.stl", "shapes_open/hollow_box.stl", "mech_gear40.stl"} {
		m := read(t, f)
		tree := built(t, m)
		box := m.Box()
		rng := rand.New(rand.NewPCG(8, 0))
		through := 0
		for i := range 4000 {
			from := box.Center().Add(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize().Mul(box.DiagonalMM()))
			to := box.Min.Add(geom.Vec{rng.Float64() * box.Size()[0], rng.Float64() * box.Size()[1], rng.Float64() * box.Size()[2]})
			if i%2 == 0 {
				to = m.Verts[rng.IntN(len(m.Verts))]
			}
			r := Ray{Origin: from, Dir: to.Sub(from), FarMM: math.Inf(1)}
			if h, ok := tree.Cast(r); ok && h.Back && !touched(tree, r, h.DistMM) {
				t.Fatalf("%s: ray %v first meets an inner side at %g", f, r, h.DistMM)
			}
			inside, met := 0, 0
			tree.Crossings(r, func(c Crossing) bool {
				if !c.Sure {
					met = -1
					return false
				}
				met++
				if c.Back {
					inside--
				} else {
					inside++
				}
				return true
			})
			if met > 0 {
				through++
			}
			if met > 0 && inside != 0 {
				t.Fatalf("%s: ray %v goes in %d times more than out", f, r, inside)
			}
		}
		if through < 1000 {
			t.Errorf("%s: only %d rays were judged", f, through)
		}
	}
}

// touched reports whether the ray only brushes the mesh there, at a corner or an
// edge seen from the side.
func touched(tree *Tree, r Ray, distMM float64) bool {
	brushes := false
	tree.Crossings(r, func(c Crossing) bool {
		brushes = brushes || !c.Sure && math.Abs(c.DistMM-distMM) < 1e-6
		return !brushes
	})
	return brushes
}
