package spot

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

const (
	// flatMM is how far a host may bend away from a mounting face.
	flatMM = 0.5 // common practice, no source
	// leastSupport is the share of the mounting face that must find the host.
	leastSupport = 0.9 // common practice, no source
	// footPoints is how many points of the mounting face are tested, about.
	footPoints = 64
	// aboveMM is how high above the face the probing starts.
	aboveMM = 2
)

// foot is the mounting face, in the component's frame.
type foot struct {
	points []geom.Vec // those furthest out first: they hang over soonest
	middle geom.Vec
	size   geom.Vec // of its box
}

// checkFoot fails on a component whose mesh does not sit on z = 0.
func checkFoot(m *mesh.Mesh) error {
	box := m.Box()
	if box.Max[2] < flatMM/2 {
		return say.Errorf("the component's mesh lies below z = 0 (it ends at %.6g mm); its mounting face belongs on z = 0 of its own frame, its body towards +Z: turn it over or move it up in the mesh file", box.Max[2])
	}
	if len(faceOf(m)) > 0 || math.Abs(box.Min[2]) < flatMM/2 {
		return nil
	}
	return say.Errorf("the component's mesh has no mounting face on z = 0 (its lowest point lies at z = %.6g mm); move it by %.6g mm along z in the mesh file, so that the face lies on z = 0 and the body towards +Z", box.Min[2], -box.Min[2])
}

// faceOf returns the facets on z = 0 that face down.
func faceOf(m *mesh.Mesh) [][3]geom.Vec {
	var face [][3]geom.Vec
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		cross := b.Sub(a).Cross(c.Sub(a))
		if math.Max(math.Abs(a[2]), math.Max(math.Abs(b[2]), math.Abs(c[2]))) < flatMM/2 && cross[2] < 0 {
			face = append(face, [3]geom.Vec{a, b, c})
		}
	}
	return face
}

// footOf finds the mounting face: all facets on z = 0 that face down. A mesh
// without one stands on its lowest corners.
func footOf(m *mesh.Mesh) foot {
	f := anyFootOf(m)
	slices.SortStableFunc(f.points, func(a, b geom.Vec) int {
		return cmp.Compare(b.Sub(f.middle).LenSqr(), a.Sub(f.middle).LenSqr())
	})
	return f
}

func anyFootOf(m *mesh.Mesh) foot {
	face := faceOf(m)
	var areaMM2 float64
	box := geom.EmptyBox()
	for _, t := range face {
		areaMM2 += t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Len() / 2
		box = box.Grow(t[0]).Grow(t[1]).Grow(t[2])
	}
	if len(face) == 0 {
		return lowest(m)
	}
	f := foot{points: gridOn(face, box, math.Sqrt(areaMM2/footPoints)), size: box.Size()}
	for _, t := range face {
		cross, mid := t[1].Sub(t[0]).Cross(t[2].Sub(t[0])), t[0].Add(t[1]).Add(t[2]).Mul(1.0/3)
		f.middle = f.middle.Add(mid.Mul(-cross[2] / 2 / areaMM2))
		if len(f.points) == 0 { // slivers that the grid misses
			f.points = append(f.points, mid)
		}
	}
	return f
}

// mostColumns bounds the grid where the face is but a thin rim.
const mostColumns = 64

// gridOn returns even points of the box that the facets cover, about stepMM
// apart.
func gridOn(face [][3]geom.Vec, box geom.Box, stepMM float64) []geom.Vec {
	var out []geom.Vec
	size := box.Size()
	columns := math.Min(math.Ceil(size[0]/stepMM), mostColumns)
	rows := math.Min(math.Ceil(size[1]/stepMM), mostColumns)
	for i := range int(columns) {
		for k := range int(rows) {
			p := geom.Vec{box.Min[0] + size[0]*(float64(i)+0.5)/columns, box.Min[1] + size[1]*(float64(k)+0.5)/rows, 0}
			if slices.ContainsFunc(face, func(t [3]geom.Vec) bool { return covers(&t, p) }) {
				out = append(out, p)
			}
		}
	}
	return out
}

// lowest returns the corners near the lowest one.
func lowest(m *mesh.Mesh) foot {
	var f foot
	leastMM := m.Box().Min[2]
	for _, v := range m.Verts {
		if v[2] < leastMM+flatMM/2 {
			f.points = append(f.points, geom.Vec{v[0], v[1], 0})
		}
	}
	box := geom.EmptyBox()
	for _, p := range f.points {
		f.middle = f.middle.Add(p.Mul(1 / float64(len(f.points))))
		box = box.Grow(p)
	}
	f.size = box.Size()
	return f
}

// covers reports whether a facet that faces down lies over or under p.
func covers(t *[3]geom.Vec, p geom.Vec) bool {
	for i := range t {
		edge, to := t[(i+1)%3].Sub(t[i]), p.Sub(t[i])
		if edge[0]*to[1]-edge[1]*to[0] > 0 {
			return false
		}
	}
	return true
}

// supportedShare returns the share of the mounting face that lies on the host,
// to flatMM; a share between that and leastShare, where it is under
// leastShare.
func (f *foot) supportedShare(host *scene.Part, pose geom.Pose, leastShare float64) float64 {
	back := host.Pose.Inverse()
	down := back.Dir(pose.Dir(geom.Vec{0, 0, -1}))
	all, off := float64(len(f.points)), 0
	for _, p := range f.points {
		origin := back.Point(pose.Point(p.Add(geom.Vec{0, 0, aboveMM})))
		hit, ok := host.Tree.Cast(bvh.Ray{Origin: origin, Dir: down, FarMM: aboveMM + flatMM})
		if !ok || hit.DistMM < aboveMM-flatMM {
			if off++; (all-float64(off))/all < leastShare {
				break
			}
		}
	}
	return (all - float64(off)) / all
}
