package thermal

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func TestEquations(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 2, 7, 40} {
		e := NewEquations(n)
		want, right := make([]float64, n), make([]float64, n)
		for j := range want {
			want[j] = r.Float64() - 0.5
		}
		for i := range n {
			for j := range n {
				e.Row(i)[j] = r.Float64() - 0.5
				right[i] += e.Row(i)[j] * want[j]
			}
		}
		if err := e.Factor(); err != nil {
			t.Fatal(err)
		}
		got := make([]float64, n)
		e.Solve(right, got)
		lanes := make([][Lanes]float64, n)
		for i := range lanes {
			lanes[i] = [Lanes]float64{right[i], 0, 2 * right[i], 7: right[i]}
		}
		e.SolveLanes(lanes)
		for i := range lanes {
			if lanes[i] != [Lanes]float64{got[i], 0, 2 * got[i], 7: got[i]} {
				t.Errorf("n = %d: lanes %v, by itself %g", n, lanes[i], got[i])
			}
		}
		for j := range want {
			if math.Abs(got[j]-want[j]) > 1e-10 {
				t.Errorf("n = %d: x%d = %g, want %g", n, j, got[j], want[j])
			}
		}
	}
	if err := NewEquations(2).Factor(); !errors.Is(err, ErrSingular) {
		t.Errorf("a matrix of zeros: %v", err)
	}
}
