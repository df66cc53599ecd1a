package bvh

import (
	"math"
	"slices"
	"testing"
)

// visits counts what a walk looks at.
type visits struct{ nodes, blocks int }

// slowCast is castWide in plain Go, for counting and as a second opinion.
func (w *wide) slowCast(s *shot, v *visits) {
	s.widen()
	type aside struct {
		near  float32
		child uint32
	}
	stack := []aside{{0, 0}}
	for len(stack) > 0 {
		top := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if top.near > math.Float32frombits(uint32(s.reached())) {
			continue
		}
		if top.child&leafMark != 0 {
			v.blocks++
			for k := range blockLanes {
				if tri, number := w.block(top.child).triangle(k); number >= 0 {
					s.meet(&tri, number)
				}
			}
			continue
		}
		v.nodes++
		n := w.node(top.child)
		var met []aside
		for lane := range lanes {
			near, far := float32(0), math.Float32frombits(uint32(s.reached()))
			for k := range 3 {
				at := 0
				if s.inv[k] < 0 {
					at = 1
				}
				near = max(near, n.planes[k][at][lane]*s.inv[k]+s.nearAdd[k])
				far = min(far, (n.planes[k][1-at][lane]*s.inv[k]+s.farAdd[k])*(1+2e-6))
			}
			if near <= far {
				met = append(met, aside{near, n.child[lane]})
			}
		}
		slices.SortFunc(met, func(a, b aside) int {
			if a.near < b.near {
				return 1
			}
			return -1
		})
		stack = append(stack, met...)
	}
}

// The walk in plain Go over the wide tree meets what the assembly meets.
func TestWideWalkInPlainGo(t *testing.T) {
	if !HasAVX2() {
		t.Skip("this processor has no wide walk")
	}
	m, _ := sceneMesh(t, "bay_20k")
	tree := BuildRays(m)
	rays := surfaceRays(m, 20000)
	var v visits
	for _, r := range rays {
		var s shot
		if !s.aim(&tree.origin, &tree.root, &r) {
			continue
		}
		tree.wide.slowCast(&s, &v)
		want, wanted := s.hit()
		if got, ok := tree.Cast(r); ok != wanted || got != want {
			t.Fatalf("ray %+v: %+v %v, in plain Go %+v %v", r, got, ok, want, wanted)
		}
	}
	n := float64(len(rays))
	t.Logf("%.2f nodes and %.2f blocks a ray", float64(v.nodes)/n, float64(v.blocks)/n)
}
