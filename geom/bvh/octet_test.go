package bvh

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"aftbay/geom"
)

// wild returns numbers that a tree may hold, and some that it should not.
func wild(rng *rand.Rand) float32 {
	switch rng.IntN(20) {
	case 0:
		return 0
	case 1:
		return float32(math.Inf(1 - 2*rng.IntN(2)))
	case 2:
		return float32(rng.NormFloat64() * 1e-40) // below the smallest normal number
	case 3:
		return float32(rng.NormFloat64() * 1e25) // squares are out of range
	case 4:
		return float32(math.NaN())
	}
	return float32(rng.NormFloat64() * math.Pow(10, float64(rng.IntN(6)-2)))
}

// alike reports whether two numbers have the same bits; one NaN is as good as
// another.
func alike(x, y float32) bool {
	return math.Float32bits(x) == math.Float32bits(y) || x != x && y != y
}

// TestKernelsAgree: the kernel in assembly gives the bits of the plain one, on
// boxes as trees hold them and on numbers of every kind.
func TestKernelsAgree(t *testing.T) {
	if !HasAVX2() {
		t.Skip("this processor offers no AVX2")
	}
	rng := rand.New(rand.NewPCG(31, 0))
	same := func(o *octet, f *facing, reachMM float64) bool {
		mm, mm2 := reachOf(reachMM)
		var slow, quick near
		want := plain.near(o, f, mm, mm2, &slow)
		got := vector.near(o, f, mm, mm2, &quick)
		for i := range lanes {
			if want != 0 && !(alike(slow.gapMM[i], quick.gapMM[i]) && alike(slow.midsMM2[i], quick.midsMM2[i])) {
				return false
			}
		}
		return got == want
	}
	tree := Build(soup(2000, 3, 32))
	for range 20000 {
		o := tree.octets[rng.IntN(len(tree.octets))]
		to := sideOf(geom.Pose{R: geom.Turn(geom.Vec{rng.Float64() * 6, rng.Float64() * 6, rng.Float64() * 6}), T: geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(100)})
		to.slackMM = 1e-4
		var f facing
		f.face(&tree.octets[rng.IntN(len(tree.octets))], rng.Int32N(lanes), &to)
		if reachMM := rng.ExpFloat64() * 100; !same(&o, &f, reachMM) {
			t.Fatalf("another answer for %+v within %g of %+v", f, reachMM, o)
		}
	}
	for range 50000 {
		var o octet
		var f facing
		for k := range 3 {
			f.lo[k], f.hi[k], f.mid[k], f.half[k] = wild(rng), wild(rng), wild(rng), wild(rng)
			for c := range 3 {
				f.axis[k][c] = wild(rng)
			}
			for i := range lanes {
				o.lo[k][i], o.hi[k][i], o.mid[k][i], o.half[k][i] = wild(rng), wild(rng), wild(rng), wild(rng)
				for c := range 3 {
					o.axis[k][c][i] = wild(rng)
				}
			}
		}
		if reachMM := math.Abs(float64(wild(rng))); !same(&o, &f, reachMM) {
			t.Fatalf("another answer for %+v within %g of %+v", f, reachMM, o)
		}
	}
}

// shownInOrder is the leaf pairs of a walk whose reach shrinks to the nearest
// pair of corners seen.
func shownInOrder(a, b *Tree, to geom.Pose) (shown []LeafPair) {
	var w PairWalk
	w.Start(a, b, to, Drift{})
	reachMM := math.Inf(1)
	for {
		p, ok := w.Next(reachMM)
		if !ok {
			return shown
		}
		shown = append(shown, p)
		for i := range p.CountA {
			for j := range p.CountB {
				for _, x := range b.Slot(p.FirstB + j) {
					x = to.Point(x)
					reachMM = min(reachMM, OnTriangle(x, a.Slot(p.FirstA+i)).Sub(x).Len()+Touch)
				}
			}
		}
	}
}

// TestWalksAgree: walks by either kernel show the same leaves in the same order,
// so that whatever is found on the way is the same to the last bit.
func TestWalksAgree(t *testing.T) {
	if !HasAVX2() {
		t.Skip("this processor offers no AVX2")
	}
	trees := map[string]*Tree{}
	for name, m := range nasty() {
		trees[name] = Build(m)
	}
	for _, f := range []string{"mech_gear40.stl", "brk_spider.stl", "shapes_open/torus_far.stl", "bay_20k/block.stl"} {
		trees[filepath.Base(f)] = Build(read(t, f))
	}
	rng := rand.New(rand.NewPCG(33, 0))
	for nameA, a := range trees {
		for nameB, b := range trees {
			pose := geom.Pose{R: geom.Turn(geom.Vec{rng.Float64() * 6, rng.Float64() * 6, rng.Float64() * 6}), T: geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(200)}
			to := Between(a, b, geom.Identity(), pose)
			slow, quick := shownInOrder(a.Plainly(), b, to), shownInOrder(a, b, to)
			if len(slow) != len(quick) {
				t.Fatalf("%s, %s: %d leaf pairs, by vectors %d", nameA, nameB, len(slow), len(quick))
			}
			for i := range slow {
				if slow[i] != quick[i] {
					t.Fatalf("%s, %s: leaf pair %d is %v, by vectors %v", nameA, nameB, i, slow[i], quick[i])
				}
			}
			if len(slow) == 0 && a.Len() > 0 && b.Len() > 0 {
				t.Errorf("%s, %s: no leaf pair shown", nameA, nameB)
			}
		}
	}
}

// TestWithoutSight: sizes that float32 cannot square are walked without bounds,
// and nothing is left out.
func TestWithoutSight(t *testing.T) {
	m := soup(40, 1, 34)
	for i := range m.Verts {
		m.Verts[i] = m.Verts[i].Mul(1e30)
	}
	tree := built(t, m)
	for _, shift := range []geom.Vec{{1e32, 0, 0}, {}} {
		v := &shownPairs{shown: map[[2]int]bool{}, reachMM: 1e29}
		Pairs(tree, tree, geom.Shift(shift), v.reachMM, v)
		if len(v.shown) != 40*40 {
			t.Errorf("moved by %v: %d pairs of triangles shown, want all", shift, len(v.shown))
		}
	}
	near, ok := tree.Nearest(m.Verts[5], math.Inf(1))
	if !ok || near.DistMM > 1e16 {
		t.Errorf("nearest to a corner: %+v, %v", near, ok)
	}
}

// TestDeepTreesFitTheStack: a tree as deep as the builder allows, a chain, still
// gives few levels of octets.
func TestDeepTreesFitTheStack(t *testing.T) {
	const n = maxDepth
	tree := &Tree{nodes: make([]node, 2, 2*n+2)}
	at := int32(0)
	for i := range int32(n) { // node at: the next one, and a leaf
		kid := int32(len(tree.nodes))
		tree.nodes[at] = node{hi: [3]float32{1, 1, 1}, at: kid}
		tree.nodes = append(tree.nodes, node{at: i, count: 1, hi: [3]float32{9, 9, 9}}, node{})
		at = kid + 1
	}
	tree.nodes[at] = node{at: n, count: 1}
	tree.slots = make([]Triangle, n+1)
	tree.gather()
	var deepest func(box int32, depth int) int
	deepest = func(box int32, depth int) int {
		o, lane := &tree.octets[box/lanes], box%lanes
		most := depth
		for k := int32(0); k < lanes && o.count[lane] == 0; k++ {
			if kids := &tree.octets[o.at[lane]]; kids.lo[0][k] <= kids.hi[0][k] {
				most = max(most, deepest(o.at[lane]*lanes+k, depth+1))
			}
		}
		return most
	}
	if got := deepest(0, 0); got > mostOctets || got < n/7 {
		t.Errorf("%d levels of octets, at most %d have room", got, mostOctets)
	}
}

// BenchmarkKernel: the bounds of eight boxes, plain and by vectors.
func BenchmarkKernel(b *testing.B) {
	tree := Build(soup(2000, 3, 32))
	to := sideOf(geom.Shift(geom.Vec{5, 6, 7}))
	var f facing
	f.face(&tree.octets[3], 2, &to)
	for _, k := range []kernel{plain, vector} {
		if k == vector && !HasAVX2() {
			continue
		}
		b.Run([]string{"plain", "vector"}[k], func(b *testing.B) {
			var out near
			mm, mm2 := reachOf(1000)
			for b.Loop() {
				k.near(&tree.octets[2], &f, mm, mm2, &out)
			}
		})
	}
}

// BenchmarkBuildMillion builds a tree for distances over 1.6 million triangles, on
// one processor; the bench of all is BenchmarkBuild.
func BenchmarkBuildMillion(b *testing.B) {
	small, _ := sceneMesh(b, "bay_20k")
	m := finer(finer(small))
	b.ReportAllocs()
	for b.Loop() {
		Build(m)
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/float64(len(m.Tris))*1e6, "ms/million")
}
