package sweep

import (
	"math"

	"aftbay/geom"
)

// Growth is uniform expansion about an anchor in vehicle axes.
type Growth struct {
	Anchor geom.Vec
	Scale  float64 // 1 + expansion · temperature rise, a ratio
}

// Pose returns the pose that a mesh already scaled by g.Scale about its own
// origin needs so that every point ends where the growth about the anchor
// puts it: anchor + scale·(p − anchor) for the vehicle point p.
func (g Growth) Pose(cold geom.Pose) geom.Pose {
	return geom.Pose{R: cold.R, T: cold.T.Mul(g.Scale).Add(g.Anchor.Mul(1 - g.Scale))}
}

// Stack is a tolerance chain, each link ± mm at 3 sigma.
type Stack struct {
	WorstMM float64 // plain sum
	RSSMM   float64 // root of the sum of squares, for independent centred links
}

// StackOf returns both sums of the links.
//
// Source: worst case and root-sum-square stacking as in Scholz, "Tolerance
// stack analysis methods", Boeing / University of Washington, 1995.
func StackOf(linksMM ...float64) Stack {
	var s Stack
	var squares float64
	for _, l := range linksMM {
		s.WorstMM += math.Abs(l)
		squares += l * l
	}
	s.RSSMM = math.Sqrt(squares)
	return s
}
