package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// bound returns a depth that no point of a piece exceeds, and the point of the
// piece where it is likely to be met.
//
// The depth is at most the distance from any one triangle of the solid, a wall,
// and so at most any weighted mean of the distances from two walls. All these
// are convex: on the piece they are largest at a corner. One wall bounds a piece
// over which it stays the nearest to the second order of the piece's size; the
// mean of two does so on the ridge between two walls, where one distance grows as
// the other falls and where the deepest points lie. The walls tried are those
// nearest to the corners; besides, the depth changes by no more than the way from
// a corner.
func (d *digger) bound(x *digging) (highMM float64, at geom.Vec) {
	highMM = math.Inf(1)
	var fromWallMM [3][3]float64 // by wall, by corner
	part := [3]geom.Vec{d.in.fromA.Point(x.piece[0]), d.in.fromA.Point(x.piece[1]), d.in.fromA.Point(x.piece[2])}
	for w := range 3 {
		if ballMM := x.corners[w].depthMM + reachMM(x.piece[w], &x.piece); ballMM < highMM {
			highMM, at = ballMM, x.piece[w]
		}
		if w > 0 && x.corners[w].wall == x.corners[w-1].wall {
			fromWallMM[w] = fromWallMM[w-1]
			continue
		}
		p, q, r := d.in.tree.Mesh().Corners(x.corners[w].wall)
		wall := bvh.Triangle{p, q, r}
		for c := range part {
			fromWallMM[w][c] = bvh.OnTriangle(part[c], &wall).Sub(part[c]).Len()
		}
	}
	for w := range 3 {
		if meanMM, i, share := least(&fromWallMM[w], &fromWallMM[(w+1)%3]); meanMM < highMM {
			highMM, at = meanMM, x.piece[i].Mul(1-share).Add(x.piece[(i+1)%3].Mul(share))
		}
	}
	return highMM, at
}

// least returns the least, over all weights, of the largest weighted mean of two
// rows: that of one row alone, or where two of the means are equal. There both
// rows are equal at a share of the way from corner i to the next.
//
// Bare numbers: the rows are distances, and so is the mean.
func least(a, b *[3]float64) (best float64, at int, share float64) {
	best = min(max(a[0], a[1], a[2]), max(b[0], b[1], b[2]))
	for i := range 3 {
		k := (i + 1) % 3
		weight := (b[k] - b[i]) / ((a[i] - b[i]) - (a[k] - b[k]))
		if !(weight > 0 && weight < 1) {
			continue
		}
		var largest float64
		for c := range 3 {
			largest = max(largest, weight*a[c]+(1-weight)*b[c])
		}
		if largest < best {
			best, at, share = largest, i, (a[i]-b[i])/((a[i]-b[i])-(a[k]-b[k]))
		}
	}
	return best, at, share
}
