package dist

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

func bodyOf(m *mesh.Mesh, pose geom.Pose) Body {
	return Body{Tree: bvh.Build(m), Pose: pose, Closed: true}
}

// TestSweptBoxes: boxes side by side; the least gap is the gap less the shift
// towards the other, whatever the shifts across. Closed form.
func TestSweptBoxes(t *testing.T) {
	a := bodyOf(plain.Brick(geom.Vec{0, 0, 0}, geom.Vec{100, 50, 40}), geom.Identity())
	b := bodyOf(plain.Brick(geom.Vec{0, 0, 0}, geom.Vec{30, 30, 30}), geom.Shift(geom.Vec{120, 10, 5}))
	for _, c := range []struct {
		name string
		box  geom.Box
		want float64
	}{
		{"still", geom.Box{}, 20},
		{"towards", geom.Box{Min: geom.Vec{-8, -5, -10}, Max: geom.Vec{8, 5, 8}}, 12},
		{"one-sided", geom.Box{Min: geom.Vec{3, 0, 0}, Max: geom.Vec{5, 0, 0}}, 15},
		{"past the corner", geom.Box{Min: geom.Vec{-3, 60, 0}, Max: geom.Vec{17, 64, 0}}, math.Hypot(3, 20)},
		{"contact", geom.Box{Min: geom.Vec{-8, -5, -10}, Max: geom.Vec{25, 5, 8}}, 0},
	} {
		r := Swept(a, b, Sweep{Shift: c.box}, math.Inf(1))
		if math.Abs(r.GapMM-c.want) > 1e-9 || r.LowMM > r.GapMM || c.want > 0 && r.GapMM-r.LowMM > 1e-9 {
			t.Errorf("%s: gap %.12g, low %.12g, want %g", c.name, r.GapMM, r.LowMM, c.want)
		}
		if r = Swept(a, b, Sweep{Shift: c.box}, 5); c.want >= 5 && (!r.AtLeast || r.GapMM != 5) {
			t.Errorf("%s: asked for 5 mm, got %+v", c.name, r)
		}
	}
}

// TestSweptAgainstBetween: on random bodies and shift boxes no single shift
// comes nearer than the bound, and the shift named is as near as stated. Oracle:
// Between at many shifts.
func TestSweptAgainstBetween(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	for trial := range 60 {
		far := 0.0
		if trial%3 == 0 {
			far = 1e5
		}
		pose := func(r float64) geom.Pose {
			return geom.Pose{R: geom.Turn(geom.Vec{in(3), in(3), in(3)}), T: geom.Vec{far + in(r), in(r), in(r)}}
		}
		a, b := bodyOf(soup(rng, 12), pose(30)), bodyOf(soup(rng, 12), pose(90))
		box := geom.Box{}
		for k := range 3 {
			x, y := in(12), in(12)
			box.Min[k], box.Max[k] = min(x, y), max(x, y)
		}
		r := Swept(a, b, Sweep{Shift: box}, math.Inf(1))
		at := func(shift geom.Vec) float64 {
			moved := a
			moved.Pose.T = moved.Pose.T.Add(shift)
			got, err := Between(context.Background(), moved, b, Options{})
			if err != nil {
				t.Fatal(err)
			}
			return got.GapMM
		}
		tol := 1e-9 + 1e-14*far
		if got := at(r.Shift); math.Abs(got-r.GapMM) > 1e-6+tol {
			t.Fatalf("trial %d: %.9f mm at the shift named, stated %.9f", trial, got, r.GapMM)
		}
		for range 200 {
			var shift geom.Vec
			for k := range 3 {
				f := rng.Float64()
				if rng.IntN(3) == 0 {
					f = math.Round(f)
				}
				shift[k] = box.Min[k] + f*(box.Max[k]-box.Min[k])
			}
			if got := at(shift); got < r.LowMM-tol {
				t.Fatalf("trial %d: shift %v comes to %.9f mm, bound %.9f", trial, shift, got, r.LowMM)
			}
		}
	}
}

// soup is a few random triangles, slivers among them.
func soup(rng *rand.Rand, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for range n {
		at := geom.Vec{rng.Float64() * 40, rng.Float64() * 40, rng.Float64() * 40}
		for k := range 3 {
			size := 15.0
			if k == 2 && rng.IntN(4) == 0 {
				size = 1e-4
			}
			m.Verts = append(m.Verts, at.Add(geom.Vec{rng.Float64() * size, rng.Float64() * size, rng.Float64() * size}))
		}
		i := int32(len(m.Verts))
		m.Tris = append(m.Tris, [3]int32{i - 3, i - 2, i - 1})
	}
	return m
}

// TestConvexThroughFlatSimplexes: sets whose corners lie almost in one plane, or
// around the origin, end with a bound on either side of the true distance; the
// oracle is the distance of the fixed triangles when nothing moves.
func TestConvexThroughFlatSimplexes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	const flatMM = 1e-3 // how far the bounds may stay apart on flat sets of 200 mm: a tenth of the step at which a search stops
	for trial := range 20000 {
		flat := []float64{1, 1e-6, 1e-9, 1e-12, 0}[trial%5]
		var ta, tb bvh.Triangle
		for k := range 3 {
			ta[k] = geom.Vec{in(100), in(100), in(100) * flat}
			tb[k] = geom.Vec{in(100), in(100), in(100)*flat + []float64{0, 1e-9, 1e-6, 3}[trial%4]}
		}
		corner := func(tri *bvh.Triangle, along geom.Vec) geom.Vec {
			best := tri[0]
			for _, p := range tri[1:] {
				if p.Dot(along) > best.Dot(along) {
					best = p
				}
			}
			return best
		}
		g := convex(func(along geom.Vec) vertex {
			return vertex{diff: corner(&ta, along).Sub(corner(&tb, along.Mul(-1)))}
		}, geom.Vec{1, 0, 0}, 300, math.Inf(1))
		near := triangles(&ta, &tb)
		want := math.Sqrt(near.distMM2)
		// The low end is certified; the high end carries the rounding of the weights.
		if g.lowMM > want+1e-9 || g.highMM < want-1e-6 || g.highMM-g.lowMM > flatMM {
			t.Fatalf("trial %d: bounds %.12g to %.12g, true %.12g", trial, g.lowMM, g.highMM, want)
		}
	}
}
