package radiate

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// covered says how much of a triangle lies inside solids.
type covered uint8

const (
	clearOf covered = iota
	partly          // each point has to be asked
	wholly
)

// probes are directions along which a point is tested, none along a likely
// plane or edge. Read-only.
var probes = [4]geom.Vec{{0.2897, 0.5413, 0.7893}, {-0.6121, 0.3917, 0.6869}, {0.7331, -0.5527, 0.3961}, {-0.1931, -0.8123, -0.5503}}

// insideOf reports whether a point lies inside any solid: whether a ray from it
// leaves some solid once more often than it enters it. Where the ray passes too
// close to an edge to be sure, another is tried. Rays end where they leave the
// boxes of all solids that could hold the point; most points are in none.
func insideOf(set *patch.Set, tree *bvh.Tree, point geom.Vec) bool {
	inside := false
	for _, dir := range probes {
		farMM := leaveMM(set.SolidBoxes, point, dir)
		if farMM == 0 {
			return false
		}
		var sure bool
		if inside, sure = windsAround(set, tree, bvh.Ray{Origin: point, Dir: dir, FarMM: farMM}); sure {
			return inside
		}
	}
	return inside
}

// leaveMM returns how far a ray runs within the boxes that hold its origin, 0
// where none does.
func leaveMM(boxes []geom.Box, point, dir geom.Vec) float64 {
	farMM := 0.0
	for i := range boxes {
		b := &boxes[i]
		if point[0] < b.Min[0] || point[0] > b.Max[0] || point[1] < b.Min[1] || point[1] > b.Max[1] || point[2] < b.Min[2] || point[2] > b.Max[2] {
			continue
		}
		leaves := math.Inf(1)
		for k := range 3 {
			wall := b.Max[k]
			if dir[k] < 0 {
				wall = b.Min[k]
			}
			leaves = math.Min(leaves, (wall-point[k])/dir[k])
		}
		farMM = math.Max(farMM, leaves)
	}
	return farMM / dirLength * pastTheWall
}

const (
	// dirLength is that of each probe, rounded down, so that distances are
	// rounded up.
	dirLength = 0.99
	// pastTheWall lets a ray reach a wall that lies in the side of its box.
	pastTheWall = 1.001
)

// winding counts how often a ray leaves a solid.
type winding struct {
	part  int32
	times int
}

// windsAround reports whether a ray leaves some solid more often than it enters
// it, and whether that is sure.
func windsAround(set *patch.Set, tree *bvh.Tree, ray bvh.Ray) (inside, sure bool) {
	var room [16]winding
	solids := room[:0]
	sure = true
	tree.Crossings(ray, func(c bvh.Crossing) bool {
		sure = sure && c.Sure
		if !c.Met || set.InnerOf[c.Tri] >= 0 {
			return true
		}
		part := set.PartOf[c.Tri]
		k := slices.IndexFunc(solids, func(w winding) bool { return w.part == part })
		if k < 0 {
			k = len(solids)
			solids = append(solids, winding{part: part})
		}
		if c.Back {
			solids[k].times++
		} else {
			solids[k].times--
		}
		return true
	})
	return slices.ContainsFunc(solids, func(w winding) bool { return w.times > 0 }), sure
}

// cornerWeight puts the tested points of a triangle near its corners.
const cornerWeight = 0.9

// coverOf tells how much of a triangle of the emitter lies inside solids of a
// set, from three points just off its surface.
func (e *emitter) coverOf(set *patch.Set, tree *bvh.Tree, tri int32) covered {
	a, b, c := e.set.Mesh.Corners(int(tri))
	lift := e.normalOf(tri).Mul(e.offMM)
	mid := a.Add(b).Add(c).Mul((1 - cornerWeight) / 3)
	count := 0
	for _, corner := range []geom.Vec{a, b, c} {
		if insideOf(set, tree, mid.Add(corner.Mul(cornerWeight)).Add(lift)) {
			count++
		}
	}
	switch count {
	case 0:
		return clearOf
	case 3:
		return wholly
	}
	return partly
}
