package approach

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

func body(m *mesh.Mesh, pose geom.Pose) dist.Body {
	return dist.Body{Tree: bvh.Build(m), Pose: pose, Closed: true}
}

func brick(lo, hi geom.Vec) dist.Body { return body(plain.Brick(lo, hi), geom.Identity()) }

// TestUntilByHand: bricks and a tilted slab, where the way follows from the
// planes: (distance of the planes − gap) / cosine.
func TestUntilByHand(t *testing.T) {
	cube := brick(geom.Vec{}, geom.Vec{10, 10, 10})
	wall := brick(geom.Vec{60, -50, -50}, geom.Vec{70, 50, 50})
	tilt := 35.0 * math.Pi / 180
	slab := body(plain.Brick(geom.Vec{-500, -500, 0}, geom.Vec{500, 500, 20}), geom.Pose{R: geom.Turn(geom.Vec{0, tilt, 0}), T: geom.Vec{0, 0, 100}})
	// The slab's lower plane passes (0, 0, 100) with the normal (sin, 0, cos); of
	// the cube the corner (10, ·, 10) is nearest to it.
	normal := geom.Vec{math.Sin(tilt), 0, math.Cos(tilt)}
	toSlab := normal.Dot(geom.Vec{0, 0, 100}.Sub(geom.Vec{10, 0, 10}))
	for _, c := range []struct {
		name   string
		mover  dist.Body
		to     Obstacle
		dir    geom.Vec
		want   float64
		gapMM  float64
		misses bool
	}{
		{"contact", cube, Obstacle{wall, 0}, geom.Vec{1, 0, 0}, 50, 0, false},
		{"ten from it", cube, Obstacle{wall, 10}, geom.Vec{3, 0, 0}, 40, 10, false},
		{"aslant", cube, Obstacle{wall, 10}, geom.Vec{1, 1, 0}, 40 * math.Sqrt2, 10, false},
		{"onto a slope", cube, Obstacle{slab, 10}, geom.Vec{0, 0, 1}, (toSlab - 10) / math.Cos(tilt), 10, false},
		{"along a slope", cube, Obstacle{slab, 10}, geom.Vec{math.Cos(tilt), 0, -math.Sin(tilt)}, 0, 0, true},
		{"away", cube, Obstacle{wall, 10}, geom.Vec{-1, 0, 0}, 0, 0, true},
		{"too near: back off", brick(geom.Vec{55, 0, 0}, geom.Vec{57, 1, 1}), Obstacle{wall, 10}, geom.Vec{-1, 0, 0}, 7, 10, false},
		{"inside: back out", brick(geom.Vec{52, 0, 0}, geom.Vec{64, 1, 1}), Obstacle{wall, 10}, geom.Vec{-1, 0, 0}, 14, 10, false},
		{"inside: out by the other side", brick(geom.Vec{52, 0, 0}, geom.Vec{64, 1, 1}), Obstacle{wall, 2}, geom.Vec{1, 0, 0}, 20, 2, false},
		{"nested: out", brick(geom.Vec{62, 0, 0}, geom.Vec{68, 1, 1}), Obstacle{wall, 0}, geom.Vec{1, 0, 0}, 8, 0, false},
	} {
		got, err := Until(t.Context(), []dist.Body{c.mover}, []Obstacle{c.to}, c.dir, 2000)
		switch {
		case err != nil:
			t.Errorf("%s: %v", c.name, err)
		case got.Found == c.misses:
			t.Errorf("%s: found %v: %+v", c.name, got.Found, got)
		case !c.misses && (math.Abs(got.ByMM-c.want) > 4*ToleranceMM || math.Abs(got.GapMM-c.gapMM) > 2*ToleranceMM):
			t.Errorf("%s: %.9f mm to a gap of %.9f, want %.9f to %v", c.name, got.ByMM, got.GapMM, c.want, c.gapMM)
		}
	}
	if _, err := Until(t.Context(), nil, nil, geom.Vec{}, 1); err == nil {
		t.Error("a direction that points nowhere")
	}
}

// TestUntilIsTheFirst: against a comb of many bodies at random, no place before
// the stop is nearer than asked, by measuring many of them.
func TestUntilIsTheFirst(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 9))
		var fixed []Obstacle
		for range 12 {
			at := geom.Vec{40 + 200*r.Float64(), 60*r.Float64() - 30, 60*r.Float64() - 30}
			turn := geom.Turn(geom.Vec{r.Float64(), r.Float64(), r.Float64()})
			fixed = append(fixed, Obstacle{body(plain.Brick(geom.Vec{}, geom.Vec{4, 9, 6}), geom.Pose{R: turn, T: at}), 3 * r.Float64()})
		}
		movers := []dist.Body{brick(geom.Vec{-5, -3, -3}, geom.Vec{0, 3, 3}), brick(geom.Vec{-9, 4, 0}, geom.Vec{-3, 9, 2})}
		dir := geom.Vec{1, 0.2 * r.Float64(), -0.2 * r.Float64()}
		got, err := Until(t.Context(), movers, fixed, dir, 400)
		if err != nil {
			t.Fatal(err)
		}
		spare := func(byMM float64) (leastMM float64) {
			leastMM = math.Inf(1)
			for _, m := range movers {
				m.Pose = geom.Shift(dir.Normalize().Mul(byMM)).After(m.Pose)
				for _, o := range fixed {
					g, err := dist.Between(t.Context(), m, o.Body, dist.Options{})
					if err != nil {
						t.Fatal(err)
					}
					leastMM = math.Min(leastMM, g.GapMM-o.KeepMM)
				}
			}
			return leastMM
		}
		for byMM := 0.0; byMM < got.ByMM-0.5; byMM += 0.5 {
			if s := spare(byMM); s < 0 {
				t.Errorf("seed %d: stops at %v, but %v is nearer by %v already", seed, got.ByMM, byMM, -s)
				break
			}
		}
		if s := spare(got.ByMM); got.Found && math.Abs(s) > 2*ToleranceMM {
			t.Errorf("seed %d: %v to spare at the stop", seed, s)
		}
	}
}

// TestUntilOutOfASheet: an open sheet crosses a solid; the way out is found
// although no depth is known.
func TestUntilOutOfASheet(t *testing.T) {
	sheet := dist.Body{Tree: bvh.Build(&mesh.Mesh{Verts: []geom.Vec{{-5, -5, 5}, {30, -5, 5}, {-5, 30, 5}}, Tris: [][3]int32{{0, 1, 2}}}), Pose: geom.Identity()}
	cube := brick(geom.Vec{}, geom.Vec{10, 10, 10})
	got, err := Until(t.Context(), []dist.Body{sheet}, []Obstacle{{cube, 0}}, geom.Vec{0, 0, 1}, 100)
	if err != nil || !got.Found || math.Abs(got.ByMM-5) > 2*CrossingStepMM {
		t.Errorf("%+v, %v; want 5 mm up", got, err)
	}
}
