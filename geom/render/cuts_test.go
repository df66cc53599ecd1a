package render

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// sightHits returns the distances along a ray at which it crosses a mesh, brute
// force, with 1 for entering and -1 for leaving.
func sightHits(m *mesh.Mesh, from, dir geom.Vec) (atMM []float64, ways []int) {
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		ab, ac := b.Sub(a), c.Sub(a)
		p := dir.Cross(ac)
		det := ab.Dot(p)
		if det == 0 {
			continue
		}
		s := from.Sub(a)
		u, q := s.Dot(p)/det, s.Cross(ab)
		v := dir.Dot(q) / det
		if u < 0 || v < 0 || u+v > 1 {
			continue
		}
		atMM = append(atMM, ac.Dot(q)/det)
		way := 1
		if det < 0 {
			way = -1
		}
		ways = append(ways, way)
	}
	return atMM, ways
}

// Where several cuts meet, every pixel shows what a ray of sight meets first:
// a face between all cuts, or the cap of the cut that the ray enters by.
func TestCutsMeetTheRayCastOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 9))
	caps := 0
	for round := range 24 {
		unit := func() geom.Vec {
			return geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize()
		}
		solid := ball(50, 7)
		s := Scene{Items: []Item{{Mesh: solid, Pose: geom.Identity(), Closed: true}}}
		c := NewCamera().Fit(s.Box(), 60, 60).Orbit(geom.Vec{}, rng.Float64()*6, rng.Float64()-0.5)
		c.Parallel = round%2 == 0
		var o Options
		for range 1 + round%4 {
			n := unit()
			o.Cuts = append(o.Cuts, Cut{Point: n.Mul(rng.Float64()*50 - 10), Normal: n.Mul(0.5 + rng.Float64())})
		}
		f, err := Draw(context.Background(), s, c, o, 60, 60)
		if err != nil {
			t.Fatal(err)
		}
		capped, differs := 0, 0
		for y := range 60 {
			for x := range 60 {
				from, dir := c.Sight(float64(x)+0.5, float64(y)+0.5, 60, 60)
				want, wantCap, wantHit := firstKept(solid, o.Cuts, from, dir)
				got, hit := f.Pick(x, y)
				if wantCap {
					capped++
				}
				if hit != wantHit || hit && ((got.Triangle < 0) != wantCap || got.Point.Sub(want).Len() > 0.05) {
					differs++
				}
			}
		}
		caps += capped
		// Corners are snapped to 1/256 pixel: a few pixels on rims may differ.
		if differs > 12 {
			t.Errorf("round %d, %d cuts, parallel %v: %d of 3600 pixels differ, %d are caps", round, len(o.Cuts), c.Parallel, differs, capped)
		}
	}
	if caps < 2000 {
		t.Errorf("%d pixels of caps in all: nothing was tried", caps)
	}
}

// firstKept is the oracle: what a ray meets first of what all cuts leave.
func firstKept(m *mesh.Mesh, cuts []Cut, from, dir geom.Vec) (at geom.Vec, onCap, ok bool) {
	enterMM, leaveMM, inside := 0.0, math.Inf(1), 0
	for _, c := range cuts {
		rise, high := dir.Dot(c.Normal), beyondMM(c, from)
		switch atMM := -high / rise; {
		case rise < 0:
			enterMM = max(enterMM, atMM)
		default:
			leaveMM = min(leaveMM, atMM)
		}
	}
	if enterMM > leaveMM {
		return at, false, false
	}
	nearest := math.Inf(1)
	hits, ways := sightHits(m, from, dir)
	for k, atMM := range hits {
		if atMM < enterMM {
			inside += ways[k]
		} else if ways[k] > 0 && atMM <= leaveMM {
			nearest = min(nearest, atMM)
		}
	}
	if inside > 0 && enterMM > 0 {
		return from.Add(dir.Mul(enterMM)), true, true
	}
	return from.Add(dir.Mul(nearest)), false, !math.IsInf(nearest, 1)
}

func TestTooManyCutsSaySo(t *testing.T) {
	if _, err := Draw(context.Background(), bay(t), NewCamera(), Options{Cuts: make([]Cut, MaxCuts+1)}, 10, 10); err == nil {
		t.Error("drawn")
	}
}
