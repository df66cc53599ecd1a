package radiate

import (
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
// close to an edge to be sure, another is tried.
func insideOf(set *patch.Set, tree *bvh.Tree, point geom.Vec, farMM float64) bool {
	var parts [16]int32
	var wound [16]int
	inside := false
	for _, dir := range probes {
		sure, n := true, 0
		inside = false
		tree.Crossings(bvh.Ray{Origin: point, Dir: dir, FarMM: farMM}, func(c bvh.Crossing) bool {
			sure = sure && c.Sure
			if !c.Met || set.InnerOf[c.Tri] >= 0 {
				return true
			}
			part := set.PartOf[c.Tri]
			k := 0
			for k < n && parts[k] != part {
				k++
			}
			if k == n {
				if n == len(parts) {
					return true // more solids on one line than a bay has; the first ones decide
				}
				parts[k], wound[k] = part, 0
				n++
			}
			if c.Back {
				wound[k]++
			} else {
				wound[k]--
			}
			return true
		})
		for _, w := range wound[:n] {
			inside = inside || w > 0
		}
		if sure {
			return inside
		}
	}
	return inside
}

// cornerWeight puts the tested points of a triangle near its corners.
const cornerWeight = 0.9

// coverOf tells how much of a triangle of the emitter lies inside solids of a
// set, from three points just off its surface.
func (e *emitter) coverOf(set *patch.Set, tree *bvh.Tree, tri int32, farMM float64) covered {
	a, b, c := e.set.Mesh.Corners(int(tri))
	lift := e.normalOf(tri).Mul(e.offMM)
	mid := a.Add(b).Add(c).Mul((1 - cornerWeight) / 3)
	count := 0
	for _, corner := range []geom.Vec{a, b, c} {
		if insideOf(set, tree, mid.Add(corner.Mul(cornerWeight)).Add(lift), farMM) {
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
