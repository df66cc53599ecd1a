package mounts

import "math"

// mostSweeps ends the rotations; a 6×6 matrix needs about six sweeps.
const mostSweeps = 50

// eigen returns the eigenvalues and eigenvectors (one a column) of a symmetric
// matrix by Jacobi's rotations, which keep small eigenvalues clean.
//
// Source: Jacobi's cyclic method, as in Golub and Van Loan, Matrix Computations,
// section "Jacobi methods" (from memory).
func eigen(a matrix) (values vector, along matrix) {
	for i := range 6 {
		along[i][i] = 1
	}
	for range mostSweeps {
		var off, size float64
		for i := range 6 {
			size += a[i][i] * a[i][i]
			for j := range i {
				off += a[i][j] * a[i][j]
			}
		}
		if off <= 1e-40*size { // far below the rounding of any entry
			break
		}
		for p := range 6 {
			for q := p + 1; q < 6; q++ {
				rotate(&a, &along, p, q)
			}
		}
	}
	for i := range 6 {
		values[i] = a[i][i]
	}
	return values, along
}

// rotate turns the axes p and q so that their entry vanishes.
func rotate(a, along *matrix, p, q int) {
	if a[p][q] == 0 {
		return
	}
	ratio := (a[q][q] - a[p][p]) / (2 * a[p][q])
	tan := 1 / (math.Abs(ratio) + math.Hypot(ratio, 1))
	if ratio < 0 {
		tan = -tan
	}
	cos := 1 / math.Hypot(tan, 1)
	sin := tan * cos
	for k := range 6 {
		kp, kq := a[k][p], a[k][q]
		a[k][p], a[k][q] = cos*kp-sin*kq, sin*kp+cos*kq
	}
	for k := range 6 {
		pk, qk := a[p][k], a[q][k]
		a[p][k], a[q][k] = cos*pk-sin*qk, sin*pk+cos*qk
	}
	for k := range 6 {
		kp, kq := along[k][p], along[k][q]
		along[k][p], along[k][q] = cos*kp-sin*kq, sin*kp+cos*kq
	}
}
