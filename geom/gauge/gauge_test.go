package gauge

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/mesh/plain"
)

func point(x, y, z float64) End {
	at := geom.Vec{x, y, z}
	return End{Kind: Point, At: at, PickedAt: at}
}

func along(k Kind, from, to geom.Vec) End { return End{Kind: k, At: from, To: to, PickedAt: from} }

func brick(lo, hi geom.Vec) End {
	return End{Kind: Part, PickedAt: lo, Body: dist.Body{Tree: bvh.Build(plain.Brick(lo, hi)), Pose: geom.Identity(), Closed: true}}
}

// Cases worked by hand.
func TestReadings(t *testing.T) {
	x := func(y, z float64) (from, to geom.Vec) { return geom.Vec{0, y, z}, geom.Vec{100, y, z} }
	a0, a1 := x(0, 0)
	b0, b1 := x(3, 4)
	floor := along(Face, geom.Vec{7, 7, 10}, geom.Vec{7, 7, 11})
	lean := along(Face, geom.Vec{0, 0, 0}, geom.Vec{0, 1, 1})
	for _, c := range []struct {
		name           string
		a, b           End
		wantMM         float64
		wantDeg        float64 // -1: no angle
		wantFrom, want geom.Vec
	}{
		{"two points", point(1, 2, 3), point(4, 6, 15), 13, -1, geom.Vec{1, 2, 3}, geom.Vec{4, 6, 15}},
		{"point beside an edge", point(50, 3, 4), along(Edge, a0, a1), 5, -1, geom.Vec{50, 3, 4}, geom.Vec{50, 0, 0}},
		{"point beyond an edge's end", point(103, 4, 0), along(Edge, a0, a1), 5, -1, geom.Vec{103, 4, 0}, geom.Vec{100, 0, 0}},
		{"the same as an axis", point(103, 4, 0), along(Axis, a0, a1), 4, -1, geom.Vec{103, 4, 0}, geom.Vec{103, 0, 0}},
		{"parallel axes", along(Axis, a0, a1), along(Axis, b0, b1), 5, 0, geom.Vec{50, 0, 0}, geom.Vec{50, 3, 4}},
		{"askew axes", along(Axis, a0, a1), along(Axis, geom.Vec{20, 9, 8}, geom.Vec{20, 10, 8}), 8, 90, geom.Vec{20, 0, 0}, geom.Vec{20, 0, 8}},
		{"edges that meet at 60°", along(Edge, a0, a1), along(Edge, geom.Vec{}, geom.Vec{1, math.Sqrt(3), 0}), 0, 60, geom.Vec{}, geom.Vec{}},
		{"edges end to end", along(Edge, a0, a1), along(Edge, geom.Vec{103, 4, 0}, geom.Vec{203, 4, 0}), 5, 0, geom.Vec{100, 0, 0}, geom.Vec{103, 4, 0}},
		{"point over a face", point(1, 2, 34), floor, 24, -1, geom.Vec{1, 2, 34}, geom.Vec{1, 2, 10}},
		{"parallel faces", along(Face, geom.Vec{5, 5, 0}, geom.Vec{5, 5, -1}), floor, 10, 0, geom.Vec{5, 5, 0}, geom.Vec{5, 5, 10}},
		{"leaning faces", lean, floor, 10, 45, geom.Vec{}, geom.Vec{0, 0, 10}},
		{"axis along a face", along(Axis, a0, a1), floor, 10, 0, geom.Vec{}, geom.Vec{0, 0, 10}},
		{"axis into a face", along(Axis, geom.Vec{0, 0, 0}, geom.Vec{0, 0, 5}), floor, 0, 90, geom.Vec{0, 0, 10}, geom.Vec{0, 0, 10}},
		{"edge over a face", along(Edge, geom.Vec{0, 0, 30}, geom.Vec{10, 0, 20}), floor, 10, 45, geom.Vec{10, 0, 20}, geom.Vec{10, 0, 10}},
		{"edge through a face", along(Edge, geom.Vec{0, 0, 0}, geom.Vec{20, 0, 20}), floor, 0, 45, geom.Vec{10, 0, 10}, geom.Vec{10, 0, 10}},
		{"two parts", brick(geom.Vec{0, 0, 0}, geom.Vec{10, 10, 10}), brick(geom.Vec{13, 14, 0}, geom.Vec{20, 20, 9}), 5, -1, geom.Vec{10, 10, math.NaN()}, geom.Vec{13, 14, math.NaN()}},
		{"part and point", brick(geom.Vec{0, 0, 0}, geom.Vec{10, 10, 10}), point(4, 5, 17), 7, -1, geom.Vec{4, 5, 10}, geom.Vec{4, 5, 17}},
	} {
		for turn := range 2 {
			a, b, from, to := c.a, c.b, c.wantFrom, c.want
			if turn == 1 {
				if c.name == "parallel axes" || c.name == "leaning faces" || c.name == "parallel faces" {
					continue // the points lie beside the first
				}
				a, b, from, to = b, a, to, from
			}
			r, err := Between(context.Background(), a, b)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			if math.Abs(r.DistanceMM-c.wantMM) > 1e-9 || r.Angled != (c.wantDeg >= 0) || r.Angled && math.Abs(r.AngleRad-c.wantDeg*math.Pi/180) > 1e-9 {
				t.Errorf("%s, turn %d: %v mm, angle %v %v, want %v mm, %v°", c.name, turn, r.DistanceMM, r.Angled, r.AngleRad*180/math.Pi, c.wantMM, c.wantDeg)
			}
			if !same(r.From, from) || !same(r.To, to) {
				t.Errorf("%s, turn %d: from %v to %v, want %v, %v", c.name, turn, r.From, r.To, from, to)
			}
		}
	}
	r, err := Between(context.Background(), brick(geom.Vec{}, geom.Vec{10, 10, 10}), brick(geom.Vec{5, 5, 5}, geom.Vec{20, 20, 20}))
	if err != nil || !r.Overlap || r.DistanceMM != 0 {
		t.Errorf("overlapping parts: %+v, %v", r, err)
	}
}

// same compares points; NaN stands for any value.
func same(got, want geom.Vec) bool {
	for k := range got {
		if math.Abs(got[k]-want[k]) > 1e-9 {
			return false
		}
	}
	return true
}

// No other two places of two segments are nearer: tried on a fine raster.
func TestNearestOfSegmentsAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	vec := func() geom.Vec {
		return geom.Vec{rng.Float64(), rng.Float64(), rng.Float64()}.Mul(10)
	}
	for round := range 300 {
		a, b := along(Edge, vec(), vec()), along(Edge, vec(), vec())
		switch round % 4 {
		case 1: // parallel
			b.To = b.At.Add(a.To.Sub(a.At).Mul(rng.Float64()*2 - 1))
		case 2: // in one plane, mostly crossing
			a.At[2], a.To[2], b.At[2], b.To[2] = 0, 0, 0, 0
		}
		r, err := Between(context.Background(), a, b)
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		const n = 200
		for i := range n + 1 {
			p := a.At.Add(a.To.Sub(a.At).Mul(float64(i) / n))
			lb := b.line()
			least = min(least, p.Sub(lb.point(lb.share(p))).Len())
		}
		if r.DistanceMM > least+1e-9 || least > r.DistanceMM+0.1 {
			t.Errorf("round %d: %v mm, brute force %v", round, r.DistanceMM, least)
		}
	}
}

func TestWhatCannotBeMeasuredSaysWhy(t *testing.T) {
	for _, c := range []struct {
		a, b End
		says string
	}{
		{point(math.NaN(), 0, 0), point(0, 0, 0), "end 1: a number is not finite"},
		{point(0, 0, 0), along(Axis, geom.Vec{1, 2, 3}, geom.Vec{1, 2, 3}), "end 2: its direction has no length"},
		{End{Kind: "hole"}, point(0, 0, 0), `nothing of kind "hole"`},
		{point(0, 0, 0), End{Kind: Part}, "end 2: "},
	} {
		if _, err := Between(context.Background(), c.a, c.b); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v, want %q", err, c.says)
		}
	}
}
