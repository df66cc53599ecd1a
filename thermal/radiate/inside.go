package radiate

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// probes are directions along which a point is tested, near the axes, where
// walls are near, but none along a likely plane or edge. Read-only.
var probes = [6]geom.Vec{
	{0.9773, 0.1301, 0.1671},
	{-0.9719, 0.1613, -0.1711},
	{0.1439, 0.9781, -0.1507},
	{-0.1583, -0.9745, 0.1587},
	{0.1721, -0.1473, 0.9740},
	{-0.1361, 0.1657, -0.9767},
}

// perProbe[i][k] is one over probes[i][k]. Read-only.
var perProbe = [6]geom.Vec{
	{1 / 0.9773, 1 / 0.1301, 1 / 0.1671},
	{-1 / 0.9719, 1 / 0.1613, -1 / 0.1711},
	{1 / 0.1439, 1 / 0.9781, -1 / 0.1507},
	{-1 / 0.1583, -1 / 0.9745, 1 / 0.1587},
	{1 / 0.1721, -1 / 0.1473, 1 / 0.9740},
	{-1 / 0.1361, 1 / 0.1657, -1 / 0.9767},
}

// insideOf reports whether a point lies inside any solid of a set.
func insideOf(set *patch.Set, point geom.Vec) bool {
	for i := range set.Solids {
		if insideOne(&set.Solids[i], &point) {
			return true
		}
	}
	return false
}

// insideOne reports whether a point lies inside a solid.
func insideOne(s *patch.Solid, point *geom.Vec) bool {
	if !holds(&s.Box, point) {
		return false
	}
	partPoint := s.Part.Point(*point)
	return insideSolid(s.Tree, &partPoint)
}

func holds(b *geom.Box, p *geom.Vec) bool {
	return p[0] > b.Min[0] && p[0] < b.Max[0] && p[1] > b.Min[1] && p[1] < b.Max[1] && p[2] > b.Min[2] && p[2] < b.Max[2]
}

// insideSolid reports whether a ray from the point leaves the solid once more
// often than it enters it. The probe towards the nearest wall of the solid's box
// is asked first; where it passes too close to an edge to be sure, another is.
func insideSolid(tree *bvh.Tree, partPoint *geom.Vec) bool {
	box := tree.Box()
	var wallMM [len(probes)]float64
	for k, at := range partPoint {
		wallMM[2*k], wallMM[2*k+1] = box.Max[k]-at, at-box.Min[k]
	}
	w := winding{}
	for range probes {
		next := 0 // the nearest wall that is left
		for i := range wallMM {
			if wallMM[i] < wallMM[next] {
				next = i
			}
		}
		w = winding{sure: true}
		tree.Crossings(bvh.Ray{Origin: *partPoint, Dir: probes[next], FarMM: leaveMM(&box, partPoint, next)}, w.see)
		if w.sure {
			break
		}
		wallMM[next] = math.Inf(1)
	}
	return w.times > 0
}

// winding counts how much more often a ray leaves a solid than it enters it.
type winding struct {
	times int
	sure  bool
}

func (w *winding) see(c bvh.Crossing) bool {
	w.sure = w.sure && c.Sure
	switch {
	case c.Met && c.Back:
		w.times++
	case c.Met:
		w.times--
	}
	return true
}

// leaveMM returns how far a ray along a probe from within a box runs until it
// has left it.
func leaveMM(b *geom.Box, point *geom.Vec, probe int) float64 {
	leavesMM := math.Inf(1)
	for k, per := range perProbe[probe] {
		wallMM := b.Max[k]
		if per < 0 {
			wallMM = b.Min[k]
		}
		if wayMM := (wallMM - point[k]) * per; wayMM < leavesMM {
			leavesMM = wayMM
		}
	}
	return max(0, leavesMM) * pastTheWall
}

// pastTheWall lets a ray reach a wall that lies in the side of its box, and
// covers that the probes are of unit length to 1e-4 only.
const pastTheWall = 1.001
