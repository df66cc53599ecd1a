package dist

import (
	"cmp"
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

const (
	// outToMM and outToRatio are how near the end of the overlap a way out is
	// searched, the larger of the two. Common practice, no source.
	outToMM    = 1e-3
	outToRatio = 1e-3
	// outGain is how much shorter another direction must be to be followed.
	outGain = 0.98
)

// exitWay is a direction to move b and a distance that surely frees it.
type exitWay struct {
	dir    geom.Vec
	freeMM float64
}

// wayOut returns a short shift of b that leaves no overlap; found is false only
// when the meshes are so odd that not even moving past each other helps. exits
// are shifts worth trying.
//
// Method: along some thirty directions (axes and diagonals of the vehicle, axes
// of both parts, the given exits, middle to middle) the shift past the other
// body's extent frees b for sure; the best is shortened by halving, and other
// directions are followed where they beat it. The shift returned has been
// checked to leave no overlap; it is not proven to be the shortest.
func wayOut(ctx context.Context, a, b Body, exits []geom.Vec) (out geom.Vec, found bool, err error) {
	ways := exitWays(a, b, exits)
	best := exitWay{freeMM: math.Inf(1)}
	for _, w := range ways {
		t := shortening{ctx: ctx, a: a, b: b, dir: w.dir}
		tryMM := min(w.freeMM, best.freeMM*outGain)
		if !t.free(tryMM) {
			if t.err != nil {
				return geom.Vec{}, false, t.err
			}
			continue
		}
		best = exitWay{w.dir, t.shorten(tryMM)}
		if t.err != nil {
			return geom.Vec{}, false, t.err
		}
	}
	if math.IsInf(best.freeMM, 1) {
		return geom.Vec{}, false, nil
	}
	// Clear of the rounding that could turn the answer of the next check.
	t := shortening{ctx: ctx, a: a, b: b, dir: best.dir}
	if roomMM := best.freeMM + 4*errorMM(a, b); t.free(roomMM) {
		best.freeMM = roomMM
	}
	return best.dir.Mul(best.freeMM), true, t.err
}

// exitWays lists the directions to try, the surest short one first.
func exitWays(a, b Body, exits []geom.Vec) []exitWay {
	dirs := slices.Clone(exits)
	for x := -1; x <= 1; x++ {
		for y := -1; y <= 1; y++ {
			for z := -1; z <= 1; z++ {
				dirs = append(dirs, geom.Vec{float64(x), float64(y), float64(z)})
			}
		}
	}
	for _, p := range [2]Body{a, b} {
		for k := range 3 {
			dirs = append(dirs, p.Pose.R.Col(k), p.Pose.R.Col(k).Mul(-1))
		}
	}
	dirs = append(dirs, b.Pose.Point(b.Tree.Box().Center()).Sub(a.Pose.Point(a.Tree.Box().Center())))
	slackMM := 2 * errorMM(a, b)
	var ways []exitWay
	for _, d := range dirs {
		if length := d.Len(); length > 0 {
			d = d.Mul(1 / length)
			_, highMM := extent(a, d)
			lowMM, _ := extent(b, d)
			ways = append(ways, exitWay{d, max(0, highMM-lowMM) + slackMM})
		}
	}
	slices.SortStableFunc(ways, func(x, y exitWay) int { return cmp.Compare(x.freeMM, y.freeMM) })
	return ways
}

// extent returns the least and largest component of a body along a vehicle
// direction.
func extent(b Body, along geom.Vec) (lowMM, highMM float64) {
	part := b.Pose.R.Transpose().Mul3x1(along)
	lowMM, highMM = -b.Tree.Furthest(part.Mul(-1)), b.Tree.Furthest(part)
	shiftMM := along.Dot(b.Pose.T)
	return lowMM + shiftMM, highMM + shiftMM
}

// shortening finds how little b must move along dir.
type shortening struct {
	ctx  context.Context
	a, b Body
	dir  geom.Vec
	err  error
}

// free reports whether b, moved by byMM, is free of overlap.
func (t *shortening) free(byMM float64) bool {
	moved := t.b
	moved.Pose.T = moved.Pose.T.Add(t.dir.Mul(byMM))
	r, err := Between(t.ctx, t.a, moved, Options{EnoughMM: bvh.Touch})
	if err != nil {
		t.err = err
		return false
	}
	return !r.Overlap
}

// shorten halves the stretch between an overlapping shift and the free one of
// freeMM, and returns a free one.
func (t *shortening) shorten(freeMM float64) float64 {
	var lowMM float64
	for t.err == nil && freeMM-lowMM > max(outToMM, outToRatio*freeMM) {
		if midMM := 0.5 * (lowMM + freeMM); t.free(midMM) {
			freeMM = midMM
		} else {
			lowMM = midMM
		}
	}
	return freeMM
}
