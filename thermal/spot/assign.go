package spot

import "math"

// assign gives every row a column of its own so that the sum of values is the
// largest. value[i][k]: worth of row i in column k; there must be at least as
// many columns as rows. Bare numbers: in the unit of value. Cost: rows² ×
// columns.
//
// Method: the Hungarian algorithm with potentials, a row at a time (Kuhn 1955,
// Munkres 1957; this form from memory, the test compares it with all
// permutations). Own code: no maintained Go library was found that assigns a
// table of real numbers with more columns than rows.
func assign(value [][]float64) (column []int, sum float64) {
	n := len(value)
	if n == 0 {
		return nil, 0
	}
	m := len(value[0])
	rowPrice, columnPrice := make([]float64, n+1), make([]float64, m+1)
	rowOf, before := make([]int, m+1), make([]int, m+1) // from 1; 0 for none
	for i := 1; i <= n; i++ {
		rowOf[0] = i
		at := 0
		least := make([]float64, m+1)
		for k := range least {
			least[k] = math.Inf(1)
		}
		used := make([]bool, m+1)
		for rowOf[at] != 0 {
			used[at] = true
			row, delta, next := rowOf[at], math.Inf(1), 0
			for k := 1; k <= m; k++ {
				if used[k] {
					continue
				}
				if cost := -value[row-1][k-1] - rowPrice[row] - columnPrice[k]; cost < least[k] {
					least[k], before[k] = cost, at
				}
				if least[k] < delta {
					delta, next = least[k], k
				}
			}
			for k := range used {
				if used[k] {
					rowPrice[rowOf[k]] += delta
					columnPrice[k] -= delta
				} else {
					least[k] -= delta
				}
			}
			at = next
		}
		for at != 0 {
			rowOf[at] = rowOf[before[at]]
			at = before[at]
		}
	}
	column = make([]int, n)
	for k := 1; k <= m; k++ {
		if rowOf[k] > 0 {
			column[rowOf[k]-1] = k - 1
			sum += value[rowOf[k]-1][k-1]
		}
	}
	return column, sum
}
