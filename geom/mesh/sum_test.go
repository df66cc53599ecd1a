package mesh

import "testing"

// TestSumLosesNothing: in plain order the ones vanish beside 1e100.
func TestSumLosesNothing(t *testing.T) {
	var s sum
	for _, x := range []float64{1, 1e100, 1, -1e100} {
		s.add(x)
	}
	if s.value() != 2 {
		t.Errorf("got %g, want 2", s.value())
	}
}
