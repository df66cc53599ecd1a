package radiate

import (
	"context"
	"math"
	"slices"
	"testing"

	"aftbay/thermal/patch"
)

// A first answer is the solution between blocks as far as its sweeps say, the
// same for any number of workers, in a bay-like box as in a cavity of mirrors,
// where sweeps would take for ever and the equations are solved instead.
func TestQuickIsTheSolutionBetweenBlocks(t *testing.T) {
	ball := shape{Type: "sphere", C: []float64{0.3, 0.2, 0.2}, R: 0.1, Side: "out"}
	f := trace(t, bodies(append(boxSheets(1000, 600, 400), ball.sheet(t, 0))...), patch.Options{EdgeMM: 120}, Options{Rays: 128, Seed: 2})
	for _, walls := range []float64{0.9, 0.3, 0.001} {
		eps := []float64{walls, walls, walls, walls, walls, walls, 0.8}
		exact, err := exchange(context.Background(), f, emission(f, eps), 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		one, err := ExchangeQuick(context.Background(), f, emission(f, eps), 1)
		if err != nil {
			t.Fatal(err)
		}
		seven, err := ExchangeQuick(context.Background(), f, emission(f, eps), 7)
		if err != nil || !slices.Equal(one.Share, seven.Share) {
			t.Errorf("walls %g: seven workers answer otherwise than one: %v", walls, err)
		}
		worst := 0.0
		for i := range exact.Share {
			worst = math.Max(worst, math.Abs(exact.Share[i]-one.Share[i]))
		}
		// A sweep that moves a share by quickShare may be followed by as much again.
		if worst > 2*quickShare {
			t.Errorf("walls %g: off by %g", walls, worst)
		}
		moved := slices.Clone(eps)
		moved[6] = 0.6
		want, err := ExchangeParts(context.Background(), f, emission(f, moved), 0)
		if err != nil {
			t.Fatal(err)
		}
		got, err := one.QuickParts(context.Background(), f, emission(f, moved), 0)
		if err != nil {
			t.Fatal(err)
		}
		for i := range want.FromM2 {
			for c := range want.FromM2[i] {
				// Between mirrors the last changes shrink slower than the first: 1 %.
				if math.Abs(want.FromM2[i][c]-got.FromM2[i][c]) > 0.01*want.EmitM2[i] {
					t.Errorf("walls %g: part %d takes %g m² of %d, want %g", walls, i, got.FromM2[i][c], c, want.FromM2[i][c])
				}
			}
		}
	}
}
