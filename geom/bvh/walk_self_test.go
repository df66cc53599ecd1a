package bvh

import (
	"testing"

	"aftbay/geom"
)

// TestSelfWalkShowsAll: the leaf pairs are those of the pair walk of a tree with
// itself, each once.
func TestSelfWalkShowsAll(t *testing.T) {
	for name, m := range nasty() {
		tree := Build(m)
		want := map[[2]int]bool{}
		var w PairWalk
		w.Start(tree, tree, geom.Identity(), Drift{})
		for {
			p, ok := w.Next(Touch)
			if !ok {
				break
			}
			want[[2]int{min(p.FirstA, p.FirstB), max(p.FirstA, p.FirstB)}] = true
		}
		got := map[[2]int]bool{}
		var s SelfWalk
		for s.Start(tree); ; {
			p, ok := s.Next()
			if !ok {
				break
			}
			key := [2]int{min(p.FirstA, p.FirstB), max(p.FirstA, p.FirstB)}
			if got[key] {
				t.Fatalf("%s: leaves %v shown twice", name, key)
			}
			if got[key] = true; !want[key] {
				t.Fatalf("%s: leaves %v do not meet", name, key)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s: %d leaf pairs, want %d", name, len(got), len(want))
		}
	}
}
