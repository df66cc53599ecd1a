package bvh

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	shapes "aftbay/geom/mesh/plain"
)

// A node is ruled out only where the plain distance of the line from all its
// triangles, sampled, is as large as asked; and most nodes are ruled out.
func TestLineRulesOutNodes(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 0))
	tree := Build(shapes.Brick(geom.Vec{-30, -20, -10}, geom.Vec{40, 20, 10}))
	point := func(span float64) geom.Vec {
		return geom.Vec{span * (random.Float64() - 0.5), span * (random.Float64() - 0.5), span * (random.Float64() - 0.5)}
	}
	ruledOut := 0
	for trial := range 400 {
		from, to := point(150), point(150)
		if trial%10 == 0 {
			to = from // a point
		}
		if trial%7 == 0 {
			to[trial%3] = from[trial%3] // square to an axis
		}
		withinMM := []float64{0, 3, 40}[trial%3]
		l := NewLine(from, to, withinMM)
		var check func(i int)
		check = func(i int) {
			left, first, count := tree.Under(i)
			may := tree.MayMeet(i, &l)
			if !may {
				ruledOut++
			}
			for slot := first; slot < first+count && !may; slot++ {
				leastMM := math.Inf(1)
				for k := range 101 {
					p := from.Add(to.Sub(from).Mul(float64(k) / 100))
					leastMM = math.Min(leastMM, p.Sub(OnTriangle(p, tree.Slot(slot))).Len())
				}
				if leastMM < withinMM {
					t.Fatalf("trial %d: slot %d is %.6f mm away, ruled out at %g", trial, slot, leastMM, withinMM)
				}
			}
			if left > 0 {
				check(left)
				check(left + 1)
			}
		}
		check(0)
	}
	if ruledOut < 1000 {
		t.Errorf("only %d nodes ruled out", ruledOut)
	}
}
