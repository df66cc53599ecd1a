package thermal

import (
	"math"

	"aftbay/geom/say"
)

// ErrSingular says that a set of equations has no single solution: some node
// has no heat path at all.
var ErrSingular = say.New("singular heat balance")

// Equations is a square set of linear equations, factored in place.
// Bare numbers: of whatever unit is solved for.
type Equations struct {
	n     int
	rows  [][]float64
	order []int
}

// NewEquations returns room for n equations.
func NewEquations(n int) *Equations {
	e := &Equations{n: n, rows: make([][]float64, n), order: make([]int, n)}
	for i := range e.rows {
		e.rows[i] = make([]float64, n)
	}
	return e
}

// Row returns row i to be filled before Factor. Bare numbers: coefficients.
func (e *Equations) Row(i int) []float64 { return e.rows[i] }

// Factor splits the matrix into triangles, rows exchanged for the largest
// pivot. Cost: n³/3.
func (e *Equations) Factor() error {
	for i := range e.order {
		e.order[i] = i
	}
	for k := range e.n {
		best := k
		for i := k + 1; i < e.n; i++ {
			if math.Abs(e.rows[i][k]) > math.Abs(e.rows[best][k]) {
				best = i
			}
		}
		e.rows[k], e.rows[best] = e.rows[best], e.rows[k]
		e.order[k], e.order[best] = e.order[best], e.order[k]
		pivot := e.rows[k]
		if pivot[k] == 0 || math.IsNaN(pivot[k]) {
			return ErrSingular
		}
		for i := k + 1; i < e.n; i++ {
			row := e.rows[i]
			if row[k] == 0 {
				continue
			}
			row[k] /= pivot[k]
			by := row[k]
			from, to := pivot[k+1:e.n], row[k+1:e.n]
			to = to[:len(from)]
			for j, v := range from {
				to[j] -= by * v
			}
		}
	}
	return nil
}

// Solve writes the solution for a right side into out; the two may not be the
// same slice. Bare numbers: as the equations.
func (e *Equations) Solve(right, out []float64) {
	for i := range e.n {
		sum := right[e.order[i]]
		known := out[:i]
		for j, l := range e.rows[i][:i] {
			sum -= l * known[j]
		}
		out[i] = sum
	}
	for i := e.n - 1; i >= 0; i-- {
		sum := out[i]
		row, known := e.rows[i][i+1:e.n], out[i+1:e.n]
		known = known[:len(row)]
		for j, u := range row {
			sum -= u * known[j]
		}
		out[i] = sum / e.rows[i][i]
	}
}

// Lanes is how many right sides SolveLanes takes at once.
const Lanes = 8

// SolveLanes is Solve for some right sides side by side, to the same bits: they
// stand in x, one a lane, and are replaced by their solutions. Bare numbers: as
// the equations.
func (e *Equations) SolveLanes(x [][Lanes]float64) {
	right := make([][Lanes]float64, e.n)
	copy(right, x)
	for i := range e.n {
		x[i] = less(right[e.order[i]], e.rows[i][:i], x[:i])
	}
	for i := e.n - 1; i >= 0; i-- {
		x[i] = less(x[i], e.rows[i][i+1:e.n], x[i+1:e.n])
		for k := range x[i] {
			x[i][k] /= e.rows[i][i]
		}
	}
}

// less takes the products of a row with the known ones off a sum. Bare numbers:
// as the equations.
//
// Long on purpose: a variable for each lane keeps the sums in registers.
func less(sum [Lanes]float64, row []float64, known [][Lanes]float64) [Lanes]float64 {
	s0, s1, s2, s3, s4, s5, s6, s7 := sum[0], sum[1], sum[2], sum[3], sum[4], sum[5], sum[6], sum[7]
	known = known[:len(row)]
	for j, l := range row {
		k := &known[j]
		s0 -= l * k[0]
		s1 -= l * k[1]
		s2 -= l * k[2]
		s3 -= l * k[3]
		s4 -= l * k[4]
		s5 -= l * k[5]
		s6 -= l * k[6]
		s7 -= l * k[7]
	}
	return [Lanes]float64{s0, s1, s2, s3, s4, s5, s6, s7}
}
