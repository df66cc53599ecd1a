package dist

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// nearestBrute is the plain loop over all pairs of triangles with a distance
// that shares no code with the kernel.
func nearestBrute(a, b Body) float64 {
	best := math.Inf(1)
	for i := range a.Tree.Mesh().Tris {
		ta := posed(a, i)
		for j := range b.Tree.Mesh().Tris {
			tb := posed(b, j)
			best = min(best, plainDistance(ta, tb))
		}
	}
	return best
}

func posed(b Body, tri int) [3]geom.Vec {
	x, y, z := b.Tree.Mesh().Corners(tri)
	return [3]geom.Vec{b.Pose.Point(x), b.Pose.Point(y), b.Pose.Point(z)}
}

// plainDistance minimises the distance to b over the points of a, a convex
// problem, by golden sections within golden sections; good to some 1e-7 mm here.
func plainDistance(a, b [3]geom.Vec) float64 {
	return golden(func(v float64) float64 {
		from, to := a[0].Add(a[1].Sub(a[0]).Mul(v)), a[0].Add(a[2].Sub(a[0]).Mul(v))
		return golden(func(w float64) float64 {
			p := from.Add(to.Sub(from).Mul(w))
			return project(p, b).Sub(p).Len()
		})
	})
}

// golden returns the least value of a convex function on 0..1.
func golden(f func(x float64) float64) float64 {
	const g = 0.6180339887498949
	lo, hi := 0.0, 1.0
	x, y := 1-g, g
	fx, fy := f(x), f(y)
	for range 42 {
		if fx < fy {
			hi, y, fy = y, x, fx
			x = hi - g*(hi-lo)
			fx = f(x)
		} else {
			lo, x, fx = x, y, fy
			y = lo + g*(hi-lo)
			fy = f(y)
		}
	}
	return min(fx, fy, f(0), f(1))
}

// project returns the nearest point of a triangle by trying its inside, its
// three edges' insides and its three corners.
func project(p geom.Vec, t [3]geom.Vec) geom.Vec {
	best, at := math.Inf(1), geom.Vec{}
	try := func(q geom.Vec) {
		if d := q.Sub(p).Len(); d < best {
			best, at = d, q
		}
	}
	for k := range 3 {
		u, v := t[k], t[(k+1)%3]
		try(u)
		if d := v.Sub(u); d.LenSqr() > 0 {
			try(u.Add(d.Mul(min(1, max(0, p.Sub(u).Dot(d)/d.LenSqr())))))
		}
	}
	n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	if n.LenSqr() > 0 {
		q := p.Sub(n.Mul(p.Sub(t[0]).Dot(n) / n.LenSqr()))
		inside := true
		for k := range 3 {
			if t[(k+1)%3].Sub(t[k]).Cross(q.Sub(t[k])).Dot(n) < 0 {
				inside = false
			}
		}
		if inside {
			try(q)
		}
	}
	return at
}

// tangle returns n random triangles of about the given size in a ball.
func tangle(rng *rand.Rand, n int, sizeMM, ballMM float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for range n {
		mid := gauss(rng).Mul(ballMM)
		for range 3 {
			m.Verts = append(m.Verts, mid.Add(gauss(rng).Mul(sizeMM)))
		}
		v := int32(len(m.Verts))
		m.Tris = append(m.Tris, [3]int32{v - 3, v - 2, v - 1})
	}
	return m
}

func gauss(rng *rand.Rand) geom.Vec {
	return geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
}

func randomPose(rng *rand.Rand, spreadMM float64) geom.Pose {
	return geom.Pose{R: geom.Turn(gauss(rng).Mul(2)), T: gauss(rng).Mul(spreadMM)}
}

// trials returns how many random trials to make: few in a plain run, many with
// AFTBAY_LONG set.
func trials(plain, long int) int {
	if os.Getenv("AFTBAY_LONG") != "" {
		return long
	}
	return plain
}

func sheetOf(m *mesh.Mesh) Body { return Body{Tree: bvh.Build(m), Pose: geom.Identity()} }

func TestAgainstPlainLoop(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 0))
	flat := tangle(rng, 5, 5, 20)
	for i := range flat.Verts {
		flat.Verts[i][2] = 0
	}
	shapes := map[string]*mesh.Mesh{
		"one":       tangle(rng, 1, 5, 5),
		"soup":      tangle(rng, 6, 3, 20),
		"flat":      flat,
		"sliver":    {Verts: []geom.Vec{{0, 0, 0}, {50, 0, 0}, {25, 1e-10, 0}}, Tris: [][3]int32{{0, 1, 2}}},
		"collinear": {Verts: []geom.Vec{{0, 0, 0}, {1, 1, 1}, {9, 9, 9}}, Tris: [][3]int32{{0, 1, 2}}},
		"point":     {Verts: []geom.Vec{{1, 2, 3}}, Tris: [][3]int32{{0, 0, 0}}},
		"tiny":      tangle(rng, 5, 0.03, 0.05),
	}
	for nameA, ma := range shapes {
		for nameB, mb := range shapes {
			a, b := sheetOf(ma), sheetOf(mb)
			for range trials(1, 6) {
				a.Pose, b.Pose = randomPose(rng, 15), randomPose(rng, 15)
				want := nearestBrute(a, b)
				r, err := Between(context.Background(), a, b, Options{})
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(r.GapMM-want) > 1e-6 { // what golden sections reach
					t.Errorf("%s-%s: gap %.12g, plain loop %.12g", nameA, nameB, r.GapMM, want)
				}
				checkResult(t, a, b, r)
				checkSymmetry(t, a, b, r)
				checkMoved(t, rng, a, b, r)
				checkEnough(t, a, b, r)
			}
		}
	}
}

// checkResult checks the points against the stated gap.
func checkResult(t *testing.T, a, b Body, r Result) {
	t.Helper()
	if apart := r.PointA.Sub(r.PointB).Len(); !r.Overlap && math.Abs(apart-r.GapMM) > 1e-10 {
		t.Errorf("points stand %g apart, gap %g", apart, r.GapMM)
	}
	checkOn(t, a, r.PointA, r.TriA, 1e-10)
	checkOn(t, b, r.PointB, r.TriB, 1e-10)
}

func checkSymmetry(t *testing.T, a, b Body, r Result) {
	t.Helper()
	back, err := Between(context.Background(), b, a, Options{})
	if err != nil || math.Abs(back.GapMM-r.GapMM) > r.ErrorMM || back.Overlap != r.Overlap {
		t.Errorf("swapped: %v %v, want %v", back, err, r)
	}
}

func checkMoved(t *testing.T, rng *rand.Rand, a, b Body, r Result) {
	t.Helper()
	for _, spread := range []float64{100, 1e5} {
		p := randomPose(rng, spread)
		a2, b2 := a, b
		a2.Pose, b2.Pose = p.After(a.Pose), p.After(b.Pose)
		moved, err := Between(context.Background(), a2, b2, Options{})
		if err != nil || math.Abs(moved.GapMM-r.GapMM) > moved.ErrorMM+r.ErrorMM || moved.Overlap != r.Overlap {
			t.Errorf("both moved by %v: %v %v, want %v", p.T, moved, err, r)
		}
	}
}

func checkEnough(t *testing.T, a, b Body, r Result) {
	t.Helper()
	if r.GapMM == 0 {
		return
	}
	for _, ratio := range []float64{0.5, 0.999, 1.001, 3} {
		enough, err := Between(context.Background(), a, b, Options{EnoughMM: r.GapMM * ratio})
		switch {
		case err != nil:
			t.Error(err)
		case ratio > 1 && (enough.AtLeast || enough.GapMM != r.GapMM):
			t.Errorf("enough %g: %v, want %g", r.GapMM*ratio, enough, r.GapMM)
		case ratio < 1 && enough.AtLeast && enough.GapMM > r.GapMM, ratio < 1 && !enough.AtLeast && enough.GapMM != r.GapMM:
			t.Errorf("enough %g: %v, but the gap is %g", r.GapMM*ratio, enough, r.GapMM)
		}
	}
}

// Every kind of contact of two triangles, at sizes from 1e-3 to 1e5 mm; truth by
// construction: the parts of a lie at z <= 0, those of b at z >= gap, and one
// point of each is put above the other.
func TestKernelByConstruction(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 0))
	for i := range 4000 {
		size := math.Pow(10, rng.Float64()*8-3)
		gap := size * math.Pow(10, -rng.Float64()*9)
		at := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), 0}.Mul(size)
		a := onPlane(rng, at, size, rng.IntN(3), -1)
		b := onPlane(rng, at, size, rng.IntN(3), 1)
		turn := geom.Turn(gauss(rng))
		for k := range 3 {
			a[k] = turn.Mul3x1(a[k])
			b[k] = turn.Mul3x1(b[k].Add(geom.Vec{0, 0, gap}))
		}
		got := math.Sqrt(triangles(&a, &b).distMM2)
		if math.Abs(got-gap) > 2e-14*size*10 {
			t.Fatalf("case %d: distance %.17g, want %.17g, size %g", i, got, gap, size)
		}
	}
}

// onPlane returns a triangle that touches z = 0 at the point with a corner
// (kind 0), an edge (1) or its face (2) and lies on the side of z given by up.
func onPlane(rng *rand.Rand, at geom.Vec, sizeMM float64, kind int, up float64) bvh.Triangle {
	away := func() geom.Vec {
		v := gauss(rng).Mul(sizeMM)
		v[2] = up * math.Abs(v[2])
		return v
	}
	level := func() geom.Vec {
		v := gauss(rng).Mul(sizeMM)
		v[2] = 0
		return v
	}
	switch d := level(); kind {
	case 0:
		return bvh.Triangle{at, at.Add(away()), at.Add(away())}
	case 1:
		return bvh.Triangle{at.Add(d), at.Sub(d.Mul(rng.Float64())), at.Add(away())}
	default:
		e := level()
		return bvh.Triangle{at.Add(d), at.Add(e), at.Sub(d.Add(e))}
	}
}

// Nearly parallel edges, where textbook formulas lose the answer: two crossing
// edges with the given gap and a tiny angle; truth by construction.
func TestNearlyParallelEdges(t *testing.T) {
	for _, angle := range []float64{1e-2, 1e-5, 1e-7, 1e-8, 1e-9, 1e-12, 1e-16, 0} {
		a0, a1 := geom.Vec{-100, 0, 0}, geom.Vec{100, 0, 0}
		b0, b1 := geom.Vec{-100, -100 * angle, 0.25}, geom.Vec{100, 100 * angle, 0.25}
		p, q := vectors(segments(geom.Apart(&a0), geom.Apart(&a1), geom.Apart(&b0), geom.Apart(&b1)))
		if d := p.Sub(q).Len(); math.Abs(d-0.25) > 1e-13 {
			t.Errorf("angle %g: %.16g, want 0.25", angle, d)
		}
	}
}

// TestHairApart: large triangles almost in one plane, a hair apart: an early end
// of the kernel once missed the nearer pair of edges by 3e-8 mm. Oracle: the least
// distance of all edges, where these are what is nearest.
func TestHairApart(t *testing.T) {
	a := bvh.Triangle{
		{-37.411927851844105, 82.42243464209997, 1.572674320236276e-08},
		{47.53176021636713, -76.3123576611294, 2.7300593540949714e-08},
		{48.792884188052035, 49.50203471279249, 6.300959284570318e-08},
	}
	b := bvh.Triangle{
		{6.074333167753787, -87.3275005630232, 9.14932190230807e-07},
		{-20.463510083616775, -92.21385296888853, 9.366207968143779e-07},
		{57.54926071270916, 3.001059418052887, 1.0837725624620202e-06},
	}
	least := math.Inf(1)
	for i := range 3 {
		for j := range 3 {
			p, q := vectors(segments(geom.Apart(&a[i]), geom.Apart(&a[(i+1)%3]), geom.Apart(&b[j]), geom.Apart(&b[(j+1)%3])))
			least = min(least, p.Sub(q).Len())
		}
	}
	if got := math.Sqrt(triangles(&a, &b).distMM2); got > least {
		t.Errorf("distance %g, two edges come to %g", got, least)
	}
}

// vectors returns two points as vectors.
func vectors(p, q geom.XYZ) (geom.Vec, geom.Vec) { return p.Vec(), q.Vec() }
