package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// directions are tried in turn for the winding ray: no two alike, none along an
// axis or a diagonal, so that made-up shapes rarely have an edge in the way.
// Numbers chosen freely. Read-only.
var directions = [8]geom.Vec{
	{0.2709, 0.5837, 0.7654},
	{-0.6173, 0.3391, 0.7099},
	{0.7717, -0.5279, 0.3547},
	{-0.4421, -0.7853, -0.4339},
	{0.1537, 0.9011, -0.4057},
	{-0.8719, 0.1913, -0.4507},
	{0.5309, 0.2129, -0.8203},
	{0.3371, -0.8923, -0.3001},
}

// winding returns how many times the closed mesh of t winds around the part
// point p: 0 outside, ±1 inside one shell, and so on. p must not lie on the
// surface. A ray that passes within rounding of an edge is not trusted; the next
// direction is tried, at last the solid angles are summed.
func winding(t *bvh.Tree, p geom.Vec) int {
	for _, dir := range directions {
		turns, sure := 0, true
		t.Crossings(bvh.Ray{Origin: p, Dir: dir, NearMM: 0, FarMM: math.Inf(1)}, func(c bvh.Crossing) bool {
			switch {
			case !c.Sure:
				sure = false
			case c.Back:
				turns++
			default:
				turns--
			}
			return sure
		})
		if sure {
			return turns
		}
	}
	return int(math.Round(solidAngles(t, p.Sub(t.Origin()), nil)))
}

// solidAngles returns the winding number as the sum of the solid angles over 4π of
// the triangles that are picked, all where pick is nil. Exact to rounding away from the surface; cost n.
//
// Source: A. van Oosterom, J. Strackee, "The solid angle of a plane triangle",
// IEEE Trans. Biomed. Eng. BME-30(2), 1983, from memory.
func solidAngles(t *bvh.Tree, local geom.Vec, pick func(tri int) bool) float64 {
	var sum float64
	for i := range t.Len() {
		if pick != nil && !pick(t.Tri(i)) {
			continue
		}
		s := t.Slot(i)
		a, b, c := s[0].Sub(local), s[1].Sub(local), s[2].Sub(local)
		la, lb, lc := a.Len(), b.Len(), c.Len()
		det := a.Dot(b.Cross(c))
		sum += 2 * math.Atan2(det, la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum / (4 * math.Pi)
}

// holds reports whether the vehicle point p lies inside the solid b: where its
// shells wind around it, whichever way. p must not lie on the surface.
func (b Body) holds(p geom.Vec) bool {
	part := b.Pose.Inverse().Point(p)
	if !within(b.Tree.Box(), part) {
		return false
	}
	return winding(b.Tree, part) != 0
}

// holdsBodyOf reports whether some connected body of other lies inside b. The
// surfaces must not meet, so that one corner decides for its whole body.
func (b Body) holdsBodyOf(other Body) bool {
	if !b.Closed {
		return false
	}
	for _, s := range other.Tree.Shells() {
		if b.holds(other.Pose.Point(s.Point)) {
			return true
		}
	}
	return false
}

// sideIn returns +1 when the part point p lies inside the closed mesh of t, -1
// outside, 0 within slackMM of its surface.
func sideIn(t *bvh.Tree, p geom.Vec, slackMM float64) int {
	if _, on := t.Nearest(p, slackMM); on {
		return 0
	}
	if within(t.Box(), p) && winding(t, p) != 0 {
		return 1
	}
	return -1
}

const (
	// coreProbes is the number of facets from which coreIn looks for inner points.
	coreProbes = 12
	// coreShare is how far through the body they lie: not half way, which would
	// be the middle of a ball each time.
	coreShare = 0.4
)

// coreIn reports whether one of some points deep inside b lies inside other,
// too, more than slackMM off its surface. Points: some way through b from
// the middles of facets spread over the mesh. A yes is sure, a no says nothing.
func (b Body) coreIn(other Body, slackMM float64) bool {
	m := b.Tree.Mesh()
	for i := range min(coreProbes, len(m.Tris)) {
		x, y, z := m.Corners(i * len(m.Tris) / min(coreProbes, len(m.Tris)))
		mid, n := x.Add(y).Add(z).Mul(1.0/3), y.Sub(x).Cross(z.Sub(x))
		hit, ok := b.Tree.Cast(bvh.Ray{Origin: mid, Dir: n.Mul(-1), NearMM: slackMM, FarMM: math.Inf(1)})
		if !ok {
			continue
		}
		p := mid.Sub(n.Mul(coreShare * hit.DistMM / n.Len()))
		if sideIn(b.Tree, p, slackMM) > 0 && sideIn(other.Tree, other.Pose.Inverse().Point(b.Pose.Point(p)), slackMM) > 0 {
			return true
		}
	}
	return false
}

func within(b geom.Box, p geom.Vec) bool {
	for k := range p {
		if p[k] < b.Min[k] || p[k] > b.Max[k] {
			return false
		}
	}
	return true
}
