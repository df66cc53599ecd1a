package render

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// fillPlain draws a triangle by testing every sample with the three edge
// functions: the oracle of fill and of countFaces.
func fillPlain(vis []uint64, w, h int, id uint32, a, b, c corner) {
	if facing(a, b, c) > 0 {
		b, c = c, b
	}
	area := float64(-facing(a, b, c))
	if area == 0 {
		return
	}
	side := func(p, q corner, x, y int64) (int64, bool) {
		dx, dy := int64(q.x-p.x), int64(q.y-p.y)
		e := dx*(y-int64(p.y)) - dy*(x-int64(p.x))
		return e, e > 0 || e == 0 && (dy < 0 || dy == 0 && dx > 0)
	}
	for y := range h {
		for x := range w {
			px, py := int64(x)*subPx, int64(y)*subPx
			wc, in0 := side(a, b, px, py)
			wa, in1 := side(b, c, px, py)
			wb, in2 := side(c, a, px, py)
			if !in0 || !in1 || !in2 {
				continue
			}
			z := (float64(wa)*float64(a.z) + float64(wb)*float64(b.z) + float64(wc)*float64(c.z)) / area
			if v := uint64(math.Float32bits(float32(z)))<<32 | uint64(id); v > vis[y*w+x] {
				vis[y*w+x] = v
			}
		}
	}
}

func TestFillMeetsThePlainLoop(t *testing.T) {
	const w, h = 61, 47
	rng := rand.New(rand.NewPCG(1, 0))
	for round := range 4000 {
		size := []float64{2, 20, 200, 5000, 1 << 19}[round%5]
		var c [3]corner
		for k := range c {
			c[k] = snap(30+size*(rng.Float64()-0.5), 20+size*(rng.Float64()-0.5), 1+rng.Float64())
		}
		if round%7 == 0 { // corners on pixel centres: ties decide
			for k := range c {
				c[k].x, c[k].y = c[k].x&^255, c[k].y&^255
			}
		}
		if round%11 == 0 { // a sliver
			c[2].x, c[2].y = (c[0].x+c[1].x)/2+1, (c[0].y+c[1].y)/2
		}
		got, want := make([]uint64, w*h), make([]uint64, w*h)
		fill(got, w, h, 7, c[0], c[1], c[2])
		fillPlain(want, w, h, 7, c[0], c[1], c[2])
		for i := range got {
			if (got[i] == 0) != (want[i] == 0) {
				t.Fatalf("round %d: sample %d: drawn %v, want %v; corners %v", round, i, got[i] != 0, want[i] != 0, c)
			}
			// Walking along rows and dividing once differ by a few units of
			// float32, more on slivers, where depth is steep between samples.
			a, b := math.Float32frombits(uint32(got[i]>>32)), math.Float32frombits(uint32(want[i]>>32))
			if round%11 != 0 && math.Abs(float64(a-b)) > 2e-6 {
				t.Fatalf("round %d: depth %v, want %v", round, a, b)
			}
		}
	}
}

func TestSharedEdgesLeaveNoGapAndNoDoubleHit(t *testing.T) {
	// A fan of random triangles around a point tiles a convex outline: each
	// sample inside must be hit exactly once.
	const w, h = 80, 80
	rng := rand.New(rand.NewPCG(2, 0))
	for round := range 200 {
		mid := corner{x: int32(40*subPx + rng.IntN(600) - 300), y: int32(40*subPx + rng.IntN(600) - 300), z: 1}
		n := 3 + rng.IntN(12)
		ring := make([]corner, n)
		for i := range ring {
			s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rng.Float64()) / float64(n))
			ring[i] = snap(40+35*c, 40+35*s, 1)
			if round%3 == 0 {
				ring[i].x, ring[i].y = ring[i].x&^255, ring[i].y&^255
			}
		}
		f := &Frame{w: w, h: h}
		f.buf.wind = make([]int8, w*h)
		for i := range ring {
			f.countFaces(mid, ring[i], ring[(i+1)%n])
		}
		for i, hits := range f.buf.wind {
			if hits < 0 || hits > 1 {
				t.Fatalf("round %d: sample (%d, %d) hit %d times", round, i%w, i/w, hits)
			}
		}
		if k := 40*w + 40; f.buf.wind[k] != 1 && n > 4 {
			t.Fatalf("round %d: the middle is missed", round)
		}
	}
}

// rayCast returns the nearest triangle on a line of sight, by looking at all.
// nearEdge is set where the answer depends on rounding: the sight passes a side
// of a triangle, or two surfaces, within the snapping of corners.
func rayCast(items []Item, from, dir geom.Vec, blurMM float64) (item, tri int, at geom.Vec, nearEdge bool) {
	item, tri = -1, -1
	best, second := math.Inf(1), math.Inf(1)
	for i := range items {
		it := &items[i]
		if it.Hidden {
			continue
		}
		for t := range it.Mesh.Tris {
			a, b, c := it.Mesh.Corners(t)
			a, b, c = it.Pose.Point(a), it.Pose.Point(b), it.Pose.Point(c)
			n := b.Sub(a).Cross(c.Sub(a))
			if n.Len() == 0 || it.Closed && n.Dot(dir) >= 0 {
				continue
			}
			along := a.Sub(from).Dot(n) / dir.Dot(n)
			if math.IsNaN(along) || along <= 0 {
				continue
			}
			p := from.Add(dir.Mul(along))
			inside, rim := true, math.Inf(1)
			for _, s := range [3][2]geom.Vec{{a, b}, {b, c}, {c, a}} {
				// Distance from the side, foreshortened sides seen edge-on included.
				out := dir.Cross(s[1].Sub(s[0]))
				d := p.Sub(s[0]).Dot(out) / out.Len()
				if n.Dot(dir) > 0 {
					d = -d
				}
				inside = inside && d <= 0
				rim = min(rim, -d)
			}
			if rim > -blurMM && rim < blurMM && along < best+1 {
				nearEdge = true
			}
			if inside && along < best {
				best, second, item, tri, at = along, best, i, t, p
			} else if inside {
				second = min(second, along)
			}
		}
	}
	return item, tri, at, nearEdge || second-best < 0.05
}

func TestPickMeetsRayCast(t *testing.T) {
	ballMesh, boxMesh := ball(120, 8), mesh1()
	turned := geom.Pose{R: geom.Turn(geom.Vec{0.3, 0.4, 0.5}), T: geom.Vec{60, 90, -20}}
	s := Scene{Items: []Item{
		{Mesh: ballMesh, Pose: geom.Identity(), Closed: true},
		{Mesh: boxMesh, Pose: turned, Closed: true},
		{Mesh: boxMesh, Pose: geom.Shift(geom.Vec{-200, -150, 100}), Closed: false},
		{Mesh: boxMesh, Pose: geom.Identity(), Hidden: true},
	}}
	for _, parallel := range []bool{false, true} {
		for view := ViewCorner; view <= ViewBottom; view++ {
			c := NewCamera().Look(view)
			c.Parallel = parallel
			c = c.Orbit(geom.Vec{}, 0.11, 0.07).Fit(s.Box(), 60, 46)
			if view == ViewRight {
				c.DistMM *= 0.4 // some of it beyond the rim
			}
			f := draw(t, s, c, Options{}, 60, 46)
			comparePicks(t, f, s, c)
		}
	}
}

// mesh1 is the box used by several tests.
func mesh1() *mesh.Mesh { m, _ := block(80, 50, 60); return m }

func comparePicks(t *testing.T, f *Frame, s Scene, c Camera) {
	t.Helper()
	blurMM := c.MMPerPx(46) / 64 // corners are snapped to 1/256 px; four times that
	compared, hits := 0, 0
	for y := range 46 {
		for x := range 60 {
			from, dir := f.view.ray(float64(x)+0.5, float64(y)+0.5)
			item, tri, at, unsure := rayCast(s.Items, from, dir, blurMM)
			if unsure {
				continue
			}
			compared++
			got, ok := f.Pick(x, y)
			if ok != (item >= 0) || ok && (got.Item != item || got.Triangle != tri) {
				t.Fatalf("pixel (%d, %d): picked %v %v, ray cast %d %d", x, y, got, ok, item, tri)
			}
			if ok {
				hits++
				if miss := got.Point.Sub(at).Len(); miss > 1e-6 {
					t.Fatalf("pixel (%d, %d): point off by %v mm", x, y, miss)
				}
			}
		}
	}
	if compared < 2000 || hits < 200 {
		t.Errorf("only %d pixels compared, %d hits: the test says too little", compared, hits)
	}
}
