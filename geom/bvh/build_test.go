package bvh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
)

// TestSideBySide: however the work is shared out, the triangles come into the same
// order, and children follow their parents.
func TestSideBySide(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	list := make([]boxed, 3000)
	for i := range list {
		for k := range 3 {
			x := random.Float32() * float32(k+1)
			list[i].lo[k], list[i].less[k] = x, -x-0.01*float32(k+1)
		}
		list[i].tag = uint32(i) | tagMark
	}
	grown := func(together int) (*builder, []boxed) {
		b := &builder{together: together, block: 1, list: slices.Clone(list)}
		b.grow()
		return b, b.list
	}
	_, plain := grown(0)
	for _, together := range []int{50, 1000, len(list)} {
		b, order := grown(together)
		if !slices.Equal(order, plain) {
			t.Errorf("tasks of %d: another order", together)
		}
		var leaves int32
		for i, n := range b.nodes {
			if leaves += n.count; n.count == 0 && i != 1 && int(n.at) <= i {
				t.Errorf("tasks of %d: the children of node %d do not follow it", together, i)
			}
		}
		if int(leaves) != len(list) {
			t.Errorf("tasks of %d: leaves hold %d of %d", together, leaves, len(list))
		}
	}
}

// TestBinsAgree: the kernel in assembly fills the slices as the plain code does,
// bit for bit, whatever the boxes are.
func TestBinsAgree(t *testing.T) {
	if !HasAVX2() {
		t.Skip("this processor offers no AVX2")
	}
	random := rand.New(rand.NewPCG(35, 0))
	for n := range 300 {
		list := make([]boxed, n+1)
		for i := range list {
			list[i].tag = uint32(i) | tagMark
			for k := range 3 {
				list[i].lo[k], list[i].less[k] = random.Float32(), -random.Float32()-1
				if n%3 == 0 {
					list[i].lo[k], list[i].less[k] = wild(random), wild(random)
				}
				if n%3 == 1 && k == 1 {
					list[i].lo[k], list[i].less[k] = 7, -7 // all alike along an axis
				}
			}
		}
		whole := runOf(list, 0, len(list))
		s := whole.slicing()
		var quick, slow binned
		quick.fill(list, &s)
		none := nothing()
		for axis := range 3 {
			for k := range s.count {
				slow.all[axis][k] = bin{none, none}
			}
		}
		slow.plainFill(list, &s)
		for axis := range 3 {
			for k := range int(s.count) {
				x, y := &quick.all[axis][k], &slow.all[axis][k]
				x.box.cut, x.mid.cut, x.box.end, x.mid.end = 0, 0, 0, 0
				if quick.count[axis][k] != slow.count[axis][k] || *x != *y {
					t.Fatalf("%d boxes, axis %d, bin %d: %+v (%d), plain %+v (%d)", n+1, axis, k, *x, quick.count[axis][k], *y, slow.count[axis][k])
				}
			}
		}
	}
}

// TestPrincipal: the vectors are at right angles, and the matrix maps each to a
// multiple of itself, to within what is left beside the diagonal.
func TestPrincipal(t *testing.T) {
	random := rand.New(rand.NewPCG(36, 0))
	for range 2000 {
		s := symmetric{
			at:     [3]float64{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()},
			beside: [3]float64{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()},
		}
		rows := [3]geom.Vec{{s.at[0], s.beside[0], s.beside[2]}, {s.beside[0], s.at[1], s.beside[1]}, {s.beside[2], s.beside[1], s.at[2]}}
		whole := rows[0].Len() + rows[1].Len() + rows[2].Len()
		axes := s.principal()
		for k, v := range axes {
			image := geom.Vec{rows[0].Dot(v), rows[1].Dot(v), rows[2].Dot(v)}
			if image.Sub(v.Mul(image.Dot(v))).Len() > 1e-3*whole || math.Abs(v.Dot(axes[(k+1)%3])) > 1e-12 || math.Abs(v.Len()-1) > 1e-12 {
				t.Fatalf("%v: axes %v", rows, axes)
			}
		}
	}
}
