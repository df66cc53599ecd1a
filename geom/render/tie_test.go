package render

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom/mesh"
)

// fanAround returns the corners of a fan that turns once about mid, on which no
// side spans half a turn; each a number of sub-pixels within most of mid.
func fanAround(rng *rand.Rand, mid corner, most int32) []corner {
	for {
		ring := make([]corner, 0, 12)
		for range 4 + rng.IntN(8) {
			dx, dy := rng.Int32N(2*most+1)-most, rng.Int32N(2*most+1)-most
			switch rng.IntN(6) {
			case 0:
				dx = 0
			case 1:
				dy = 0
			case 2:
				dy = dx
			case 3:
				dy = -dx
			}
			if dx != 0 || dy != 0 {
				ring = append(ring, corner{x: mid.x + dx, y: mid.y + dy, z: 1})
			}
		}
		turn := func(c corner) float64 { return math.Atan2(float64(c.y-mid.y), float64(c.x-mid.x)) }
		slices.SortFunc(ring, func(a, b corner) int {
			switch {
			case turn(a) < turn(b):
				return -1
			case turn(a) > turn(b):
				return 1
			}
			return 0
		})
		whole := len(ring) > 2
		for i := range ring {
			whole = whole && facing(mid, ring[i], ring[(i+1)%len(ring)]) < 0
		}
		if whole {
			return ring
		}
	}
}

// drawnBy returns how often each sample is drawn by triangles, one at a time, as
// pictures draw them.
func drawnBy(w, h int, corners []corner, tris [][3]int32) []int {
	times := make([]int, w*h)
	m := &mesh.Mesh{Tris: tris}
	f := &Frame{w: w, h: h, items: []Item{{Mesh: m}}, first: []int{0, len(tris)}}
	f.buf.corner = corners
	p := &painter{f: f, corner0: []int{0, len(corners)}}
	vis := make([]uint64, w*h)
	for t := range tris {
		clear(vis)
		p.drawRun(chunk{item: 0, from: t, to: t + 1}, vis)
		for i, v := range vis {
			if v != 0 {
				times[i]++
			}
		}
	}
	return times
}

// Triangles with corners and edges exactly on pixel centres: of all that meet
// there exactly one draws the pixel, whichever way round they are and whichever
// way they are drawn, a pixel alone or row by row.
func TestTiesOnPixelCentres(t *testing.T) {
	const w, h = 9, 9
	rng := rand.New(rand.NewPCG(3, 0))
	alone, ties := 0, 0
	for round := range 6000 {
		at := corner{x: (w / 2) * subPx, y: (h / 2) * subPx, z: 1} // a pixel centre
		mid := at
		if round%3 == 1 { // the centre on an edge from mid, or anywhere
			mid.x += rng.Int32N(201) - 100
			mid.y += rng.Int32N(201) - 100
		}
		ring := fanAround(rng, mid, []int32{120, 255, 700}[round%3])
		if round%3 == 1 { // one edge runs through the centre
			k := rng.IntN(len(ring))
			ring[k].x, ring[k].y = 2*at.x-mid.x, 2*at.y-mid.y
		}
		corners := append([]corner{mid}, ring...)
		var tris [][3]int32
		turned := true
		for i := range ring {
			a, b := int32(1+i), int32(1+(i+1)%len(ring))
			turned = turned && facing(mid, corners[a], corners[b]) < 0
			tri := [3]int32{0, a, b}
			for range rng.IntN(3) { // any corner may come first
				tri[0], tri[1], tri[2] = tri[1], tri[2], tri[0]
			}
			if rng.IntN(2) == 0 { // seen from either side
				tri[1], tri[2] = tri[2], tri[1]
			}
			tris = append(tris, tri)
		}
		if !turned {
			continue // the edge through the centre has left its place
		}
		times := drawnBy(w, h, corners, tris)
		for i, n := range times {
			x, y := int64(i%w)*subPx, int64(i/w)*subPx
			inside, met := false, 0
			for k := range ring {
				a, b := ring[k], ring[(k+1)%len(ring)]
				side := func(p, q corner) int64 {
					return int64(q.x-p.x)*(y-int64(p.y)) - int64(q.y-p.y)*(x-int64(p.x))
				}
				if side(mid, a) >= 0 && side(a, b) >= 0 && side(b, mid) >= 0 {
					met++
					inside = inside || side(a, b) > 0 // not on the fan's outline
				}
			}
			if n > 1 || inside && n != 1 || met == 0 && n > 0 {
				t.Fatalf("round %d: pixel (%d, %d) is drawn %d times by %v, met by %d", round, i%w, i/w, n, corners, met)
			}
			if inside && met > 1 {
				ties++
			}
		}
		for _, tri := range tris {
			if onePixel(corners[tri[0]], corners[tri[1]], corners[tri[2]]) {
				alone++
			}
		}
	}
	if alone < 5000 || ties < 3000 {
		t.Errorf("%d triangles of one pixel, %d pixels shared: too few to prove anything", alone, ties)
	}
	t.Logf("%d triangles of one pixel, %d pixels shared by triangles", alone, ties)
}

// onePixel reports whether a triangle's box holds just one pixel centre.
func onePixel(a, b, c corner) bool {
	x0, x1 := (min(a.x, b.x, c.x)+subPx-1)>>8, max(a.x, b.x, c.x)>>8
	y0, y1 := (min(a.y, b.y, c.y)+subPx-1)>>8, max(a.y, b.y, c.y)>>8
	return x0 == x1 && y0 == y1
}
