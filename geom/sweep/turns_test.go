package sweep

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/mesh"
)

// TestSweptBoundHolds: no pose of two turning and shifting bodies comes nearer
// than the bound of dist.Swept over the turns that Motion.Turns gives. Oracle:
// the true rotations at many random settings, corners of the ranges among them.
func TestSweptBoundHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	bounded := 0
	for trial := range 80 {
		a, b := body(rng, geom.Vec{in(40), in(40), in(40)}), body(rng, geom.Vec{140 + in(30), in(60), in(60)})
		ma, mb := Motion{Pivot: geom.Vec{in(200), in(200), in(200)}}, Motion{Pivot: geom.Vec{in(200), in(200), in(200)}}
		for k := range axes {
			r := 0.05
			if k < Roll {
				r = 5
			}
			x, y := in(r), in(r)
			ma.Lo[k], ma.Hi[k] = min(x, y), max(x, y)
			if trial%2 == 0 {
				x, y = in(r), in(r)
				mb.Lo[k], mb.Hi[k] = min(x, y), max(x, y)
			}
		}
		midA, midB, halfA, halfB := ma.middle(), mb.middle(), ma.halves(), mb.halves()
		sa, sb := a, b
		sa.Pose, sb.Pose = ma.Turned(midA).After(a.Pose), mb.Turned(midB).After(b.Pose)
		var motion dist.Sweep
		for k := range 3 {
			motion.Shift.Min[k], motion.Shift.Max[k] = ma.Lo[k]-mb.Hi[k], ma.Hi[k]-mb.Lo[k]
		}
		motion.TurnA = ma.Turns(midA, halfA)
		motion.TurnB = mb.Turns(midB, halfB)
		r := dist.Swept(sa, sb, motion, math.Inf(1))
		if r.LowMM > 0 {
			bounded++
		}
		for range 300 {
			pa, pb := a, b
			pa.Pose, pb.Pose = ma.Pose(ma.random(rng)).After(a.Pose), mb.Pose(mb.random(rng)).After(b.Pose)
			got, err := dist.Between(context.Background(), pa, pb, dist.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if got.GapMM < r.LowMM-1e-9 {
				t.Fatalf("trial %d: a pose comes to %.9f mm, bound %.9f", trial, got.GapMM, r.LowMM)
			}
		}
	}
	if bounded < 40 {
		t.Errorf("only %d of 80 bounds say anything", bounded)
	}
}

func (m Motion) middle() Setting {
	var s Setting
	for k := range s {
		s[k] = (m.Lo[k] + m.Hi[k]) / 2
	}
	return s
}

func (m Motion) halves() Setting {
	var s Setting
	for k := range s {
		s[k] = (m.Hi[k] - m.Lo[k]) / 2
	}
	return s
}

func (m Motion) random(rng *rand.Rand) Setting {
	var s Setting
	for k := range s {
		f := rng.Float64()
		if rng.IntN(2) == 0 {
			f = math.Round(f)
		}
		s[k] = m.Lo[k] + f*(m.Hi[k]-m.Lo[k])
	}
	return s
}

// body is a few random triangles around a place, of very different sizes.
func body(rng *rand.Rand, at geom.Vec) dist.Body {
	m := &mesh.Mesh{}
	for range 10 {
		size := 10.0
		if rng.IntN(3) == 0 {
			size = 60
		}
		for range 3 {
			m.Verts = append(m.Verts, at.Add(geom.Vec{rng.Float64() * size, rng.Float64() * size, rng.Float64() * size}))
		}
		i := int32(len(m.Verts))
		m.Tris = append(m.Tris, [3]int32{i - 3, i - 2, i - 1})
	}
	return dist.Body{Tree: bvh.Build(m), Pose: geom.Pose{R: geom.Turn(geom.Vec{rng.Float64(), rng.Float64(), 0})}}
}
