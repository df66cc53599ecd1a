package dist

import (
	"path/filepath"
	"reflect"
	"testing"

	"aftbay/geom/bvh"
)

// TestPathsAgree: with vector instructions and without them every figure of every
// pair is the same to the last bit, overlaps with depth and volume, and bounds
// over a motion, included.
func TestPathsAgree(t *testing.T) {
	if !bvh.HasAVX2() {
		t.Skip("this processor offers no AVX2")
	}
	quick := bay(t, filepath.Join(meshDir, "bay_20k"))
	slow := make([]Body, len(quick))
	for i := range quick {
		slow[i] = quick[i]
		slow[i].Tree = quick[i].Tree.Plainly()
	}
	turns := Turns{Pivot: quick[0].Pose.T, About: [3]Turn{{[3]float64{1, 0, 0}, 0.02}, {[3]float64{0, 1, 0}, 0.01}}}
	overlaps := 0
	for i := range quick {
		for j := i + 1; j < len(quick); j += 3 {
			o := Options{EnoughMM: float64(j%3) * 20, Overlap: j%4 == 0}
			want, errSlow := Between(t.Context(), slow[i], slow[j], o)
			got, err := Between(t.Context(), quick[i], quick[j], o)
			if err != nil || errSlow != nil || !reflect.DeepEqual(got, want) {
				t.Fatalf("parts %d, %d: %+v (%v), without vectors %+v (%v)", i, j, got, err, want, errSlow)
			}
			if got.Overlap {
				overlaps++
			}
			if j%8 == 0 {
				want, got := Swept(slow[i], slow[j], Sweep{TurnA: turns}, 50), Swept(quick[i], quick[j], Sweep{TurnA: turns}, 50)
				if !reflect.DeepEqual(got, want) {
					t.Fatalf("parts %d, %d, swept: %+v, without vectors %+v", i, j, got, want)
				}
			}
		}
	}
	if overlaps == 0 {
		t.Error("no pair overlapped")
	}
}
