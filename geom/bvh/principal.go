package bvh

import (
	"math"

	"aftbay/geom"
)

// symmetric is a symmetric 3 by 3 matrix: at[k] on the diagonal in row k, and
// beside[k] where row k meets row k+1, the last with the first.
//
// Bare numbers: moments of whatever unit.
type symmetric struct{ at, beside [3]float64 }

// offDiagonal is how small, against the trace, what is beside the diagonal must
// become: any axes give a valid box, and these are within 1e-4 rad of the best.
const offDiagonal = 1e-4

// principal returns the unit eigenvectors by Jacobi rotations, right-handed; the
// coordinate axes where the numbers are not finite.
func (s *symmetric) principal() [3]geom.Vec {
	v := [3]geom.Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} // v[k]: vector of at[k]
	for range 8 {                                     // converges quadratically; 2 or 3 sweeps are usual
		off := math.Abs(s.beside[0]) + math.Abs(s.beside[1]) + math.Abs(s.beside[2])
		if !(off > offDiagonal*math.Abs(s.at[0]+s.at[1]+s.at[2])) {
			break
		}
		for k := range 3 {
			s.rotate(k, &v)
		}
	}
	x, y := v[0], v[1]
	if !geom.IsFinite(x) || !geom.IsFinite(y) {
		return [3]geom.Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	}
	return [3]geom.Vec{x, y, x.Cross(y)}
}

// rotate applies the Jacobi rotation of rows k and k+1 that zeroes beside[k].
func (s *symmetric) rotate(k int, v *[3]geom.Vec) {
	off := s.beside[k]
	if off == 0 {
		return
	}
	l, m := (k+1)%3, (k+2)%3
	theta := (s.at[l] - s.at[k]) / (2 * off)
	tan := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		tan = -tan
	}
	cos := 1 / math.Sqrt(tan*tan+1)
	sin := tan * cos
	s.at[k] -= tan * off
	s.at[l] += tan * off
	s.beside[k] = 0
	// Row m meets row k at beside[m], row l at beside[l].
	x, y := s.beside[m], s.beside[l]
	s.beside[m], s.beside[l] = cos*x-sin*y, sin*x+cos*y
	for c := range 3 {
		x, y := v[k][c], v[l][c]
		v[k][c], v[l][c] = cos*x-sin*y, sin*x+cos*y
	}
}
