package render

import "math"

// Corners are snapped to 1/256 pixel, so that edges shared by two triangles
// leave no gap and no double hit: all edge tests are exact integers.
const (
	subPx    = 256
	guardPx  = 1 << 20 // corners farther out are clipped: products stay in 63 bits
	spanFrom = 12      // from this width on, a row's span is computed, not tested
)

// corner is a projected corner: pixel centre (i, j) is at (256·i, 256·j).
type corner struct {
	x, y int32
	z    float32 // depth value, see view.pixel
	out  uint32  // why it cannot be drawn as it is
}

// Reasons in corner.out.
const (
	outNear  = 1 // in front of the near plane
	outGuard = 2 // beyond guardPx
	outCut   = 4 // on the side taken away by cut 0; by cut k: outCut<<k
)

func snap(xPx, yPx, nearness float64) corner {
	return corner{x: nearestSub(xPx), y: nearestSub(yPx), z: float32(nearness)}
}

// nearestSub returns a coordinate within the guard band in steps of 1/256 pixel
// from the centre of pixel 0. The number added makes all positive, since turning
// a float into a whole number cuts towards 0.
func nearestSub(px float64) int32 {
	const up = 1 << 30
	return int32(int64((px-0.5)*subPx+(up+0.5)) - up)
}

// facing returns twice the signed area, positive when seen from outside.
func facing(a, b, c corner) int64 {
	return int64(c.x-a.x)*int64(b.y-a.y) - int64(b.x-a.x)*int64(c.y-a.y)
}

// covers reports whether the triangle's box holds a pixel centre of the picture.
func covers(a, b, c corner, w, h int) bool {
	x0, x1 := (min(a.x, b.x, c.x)+subPx-1)>>8, max(a.x, b.x, c.x)>>8
	y0, y1 := (min(a.y, b.y, c.y)+subPx-1)>>8, max(a.y, b.y, c.y)>>8
	return x0 <= x1 && y0 <= y1 && x1 >= 0 && y1 >= 0 && x0 < int32(w) && y0 < int32(h)
}

// edge is one side of a triangle as a function that is ≥ 0 inside.
type edge struct {
	at           int64 // value at the row's first pixel
	stepX, stepY int64
}

// newEdge returns the side from a to b as seen at pixel (x, y). Pixels exactly
// on it belong to one of the two triangles that share it.
func newEdge(a, b corner, x, y int64) edge {
	dx, dy := int64(b.x-a.x), int64(b.y-a.y)
	e := edge{at: dx*(y*subPx-int64(a.y)) - dy*(x*subPx-int64(a.x)), stepX: -dy * subPx, stepY: dx * subPx}
	if !(dy < 0 || dy == 0 && dx > 0) {
		e.at--
	}
	return e
}

// onPixel returns newEdge(a, b, x, y).at.
func onPixel(a, b corner, x, y int32) int64 {
	dx, dy := int64(b.x-a.x), int64(b.y-a.y)
	at := dx*int64(y*subPx-a.y) - dy*int64(x*subPx-a.x)
	if !(dy < 0 || dy == 0 && dx > 0) {
		at--
	}
	return at
}

// plane is the depth value over the picture, which is linear on a triangle.
type plane struct{ xPerPx, yPerPx float64 }

// planeOf returns the depth of a triangle with that much twice its area.
func planeOf(a, b, c corner, area int64) plane {
	per := subPx / float64(area)
	bx, by, bz := float64(b.x-a.x), float64(b.y-a.y), float64(b.z)-float64(a.z)
	cx, cy, cz := float64(c.x-a.x), float64(c.y-a.y), float64(c.z)-float64(a.z)
	return plane{xPerPx: (float64(bz*cy) - float64(cz*by)) * per, yPerPx: (float64(cz*bx) - float64(bz*cx)) * per}
}

// at returns the depth value at a pixel; a is a corner of the triangle.
func (p plane) at(a corner, x, y int32) (nearness float64) {
	return float64(a.z) + float64(p.xPerPx*(float64(x)-float64(a.x)/subPx)) + float64(p.yPerPx*(float64(y)-float64(a.y)/subPx))
}

// narrow shrinks the span [lo, hi] of a row to where the edge is ≥ 0.
func (e *edge) narrow(lo, hi int64) (int64, int64) {
	switch {
	case e.stepX > 0:
		if e.at < 0 {
			lo = max(lo, (-e.at+e.stepX-1)/e.stepX)
		}
	case e.stepX < 0:
		if e.at < 0 {
			return 1, 0
		}
		hi = min(hi, e.at/-e.stepX)
	case e.at < 0:
		return 1, 0
	}
	return lo, hi
}

// fill draws one triangle, whichever way round, into a buffer of w×h samples.
//
// Long on purpose: the inner loops of every picture; calls would double them.
func fill(vis []uint64, w, h int, id uint32, a, b, c corner) {
	area := facing(a, b, c)
	if area == 0 {
		return
	}
	if area > 0 { // turned so that the edges are ≥ 0 inside with y downwards
		b, c = c, b
	} else {
		area = -area
	}
	x0 := max(0, int64(min(a.x, b.x, c.x)+subPx-1)>>8)
	x1 := min(int64(w)-1, int64(max(a.x, b.x, c.x))>>8)
	y0 := max(0, int64(min(a.y, b.y, c.y)+subPx-1)>>8)
	y1 := min(int64(h)-1, int64(max(a.y, b.y, c.y))>>8)
	if x0 > x1 || y0 > y1 {
		return
	}
	depth := planeOf(a, b, c, area)
	dzx, dzy, zRow := depth.xPerPx, depth.yPerPx, depth.at(a, int32(x0), int32(y0))
	ab, bc, ca := newEdge(a, b, x0, y0), newEdge(b, c, x0, y0), newEdge(c, a, x0, y0)
	wide := x1-x0 >= spanFrom
	for y := y0; y <= y1; y++ {
		lo, hi := int64(0), x1-x0
		row := samples(vis[y*int64(w)+x0 : y*int64(w)+x1+1])
		if wide {
			lo, hi = ab.narrow(lo, hi)
			lo, hi = bc.narrow(lo, hi)
			lo, hi = ca.narrow(lo, hi)
			if lo <= hi {
				z := zRow + float64(dzx*float64(lo))
				span := row[lo : hi+1]
				for i := range span {
					span[i] = max(span[i], uint64(math.Float32bits(float32(z)))<<32|uint64(id))
					z += dzx
				}
			}
		} else {
			row.keepInside(&ab, &bc, &ca, zRow, dzx, id)
		}
		ab.at += ab.stepY
		bc.at += bc.stepY
		ca.at += ca.stepY
		zRow += dzy
	}
}

// samples is a run of a row of the visibility buffer.
type samples []uint64

// keepInside draws what three edges hold of a short run, nearness the depth value
// of its first sample. Outside them the value is 0: no branch, since none could
// be foreseen. It is a call of its own so that all stays in registers.
//
//go:noinline
func (row samples) keepInside(ab, bc, ca *edge, nearness, perPx float64, id uint32) {
	e0, e1, e2 := ab.at, bc.at, ca.at
	for i := range row {
		v := uint64(math.Float32bits(float32(nearness)))<<32 | uint64(id)
		row[i] = max(row[i], v&^uint64((e0|e1|e2)>>63))
		e0 += ab.stepX
		e1 += bc.stepX
		e2 += ca.stepX
		nearness += perPx
	}
}
