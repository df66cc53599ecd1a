package radiate

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// flat is a patch that lies in one plane, as its outline seen from its side.
type flat struct {
	edges  [][2]geom.Vec // directed, the surface on their left as seen from its side
	points []geom.Vec    // ends of the edges
	normal geom.Vec
	box    geom.Box
}

// flatness is how far a flat patch's corners may lie off its plane, beside its
// size: a thousand times the rounding of float32 meshes a metre across would be
// 1e-4; facets of curved surfaces bend by far more.
const flatness = 1e-5

// mostCorners of a flat patch: the contour form costs their product for a pair.
const mostCorners = 12

// flatOf returns a patch as a flat one; nil where it is bent or has many
// corners.
func flatOf(set *patch.Set, p *patch.Patch) *flat {
	if p.Blind || p.AreaM2 <= 0 || p.Normal.Len() < 1-flatness {
		return nil
	}
	f := &flat{normal: p.Normal.Normalize(), box: geom.EmptyBox()}
	at := map[geom.Vec]int{}
	id := func(v geom.Vec) int {
		k, known := at[v]
		if !known {
			k = len(f.points)
			at[v] = k
			f.points = append(f.points, v)
			f.box = f.box.Grow(v)
		}
		return k
	}
	type edge struct{ from, to int }
	open := map[edge]bool{}
	var order []edge
	for _, t := range p.Tris {
		a, b, c := set.Mesh.Corners(int(t))
		ids := [3]int{id(a), id(b), id(c)}
		if len(f.points) > mostCorners {
			return nil
		}
		if p.Inner {
			ids[1], ids[2] = ids[2], ids[1]
		}
		for k := range 3 {
			e := edge{ids[k], ids[(k+1)%3]}
			if back := (edge{e.to, e.from}); open[back] {
				open[back] = false
				continue
			}
			if open[e] {
				return nil // laid twice over
			}
			open[e] = true
			order = append(order, e)
		}
	}
	sizeMM := f.box.DiagonalMM()
	for _, v := range f.points {
		if math.Abs(v.Sub(f.points[0]).Dot(f.normal)) > flatness*sizeMM {
			return nil
		}
	}
	for _, e := range order {
		if open[e] {
			open[e] = false // each once
			f.edges = append(f.edges, [2]geom.Vec{f.points[e.from], f.points[e.to]})
		}
	}
	return f
}

// faces reports whether all of b lies in front of a, or in its plane.
func (f *flat) faces(b *flat) bool {
	tiny := flatness * math.Max(f.box.DiagonalMM(), b.box.DiagonalMM())
	for _, v := range b.points {
		if v.Sub(f.points[0]).Dot(f.normal) < -tiny {
			return false
		}
	}
	return true
}

// behind reports whether a triangle lies wholly behind the patch or in its plane.
func (f *flat) behind(corners [3]geom.Vec, tinyMM float64) bool {
	for _, v := range corners {
		if v.Sub(f.points[0]).Dot(f.normal) > tinyMM {
			return false
		}
	}
	return true
}

// clearBetween reports whether surely nothing stands between two flat patches that
// face each other: every other triangle near them lies behind one of them or
// beyond a plane that both lie on one side of. Each triangle that has to be
// looked at so closely costs one of budget; without any left the answer is no.
func clearBetween(set *patch.Set, tree *bvh.RayTree, a, b *flat, budget *int) bool {
	tiny := flatness * math.Max(a.box.DiagonalMM(), b.box.DiagonalMM())
	free := true
	tree.InBox(a.box.Union(b.box), func(t int) bool {
		x, y, z := set.Mesh.Corners(t)
		corners := [3]geom.Vec{x, y, z}
		if a.behind(corners, tiny) || b.behind(corners, tiny) {
			return true
		}
		*budget--
		free = *budget >= 0 && (beyond(a, b, corners, tiny) || beyond(b, a, corners, tiny))
		return free
	})
	return free
}

// beyond reports whether a plane through an edge of a and a corner of b has
// both patches on one side and the triangle on the other.
func beyond(a, b *flat, corners [3]geom.Vec, tinyMM float64) bool {
	for _, e := range a.edges {
		for _, v := range b.points {
			n := e[1].Sub(e[0]).Cross(v.Sub(e[0]))
			length := n.Len()
			if length <= tinyMM*tinyMM {
				continue
			}
			n = n.Mul(1 / length)
			side := func(points []geom.Vec) (leastMM, mostMM float64) {
				leastMM, mostMM = math.Inf(1), math.Inf(-1)
				for _, p := range points {
					d := p.Sub(e[0]).Dot(n)
					leastMM, mostMM = math.Min(leastMM, d), math.Max(mostMM, d)
				}
				return leastMM, mostMM
			}
			lowA, highA := side(a.points)
			lowB, highB := side(b.points)
			low, high := side(corners[:])
			if math.Min(lowA, lowB) >= -tinyMM && high <= tinyMM || math.Max(highA, highB) <= tinyMM && low >= -tinyMM {
				return true
			}
		}
	}
	return false
}

// exchangeM2 returns area times view factor between two flat patches that face
// each other with nothing between, by the contour form: half of ∮∮ ln r over π.
// It is exact up to the quadrature over one of the outlines, which leaves under
// 1e-9 of it where outlines touch and rounding elsewhere.
//
// Source: Stokes' theorem twice, E. M. Sparrow, J. Heat Transfer 85 (1963) 81;
// inner integral in closed form, Mitalas & Stephenson 1966 (both from memory;
// the tests hold it against published factors).
func exchangeM2(a, b *flat) float64 {
	var sumMM2 float64
	for _, e := range a.edges {
		for _, f := range b.edges {
			along := e[1].Sub(e[0]).Dot(f[1].Sub(f[0]))
			if along != 0 {
				sumMM2 += along * meanLog(e, f)
			}
		}
	}
	return math.Max(0, sumMM2/(2*math.Pi)) * mm2ToM2
}

const mm2ToM2 = 1e-6

// meanLog returns the mean of the logarithm of the distance (mm) between points
// of two edges. Bare numbers: a logarithm.
func meanLog(e, f [2]geom.Vec) float64 {
	d := e[1].Sub(e[0])
	var sum float64
	for k, x := range gaussPlaces {
		// Substitution t = s²(3−2s) crowds the places towards the ends, where
		// a corner that both edges share makes the logarithm steep.
		for _, s := range [2]float64{0.5 - x/2, 0.5 + x/2} {
			t := s * s * (3 - 2*s)
			sum += gaussWeights[k] / 2 * 6 * s * (1 - s) * lineLog(e[0].Add(d.Mul(t)), f)
		}
	}
	return sum
}

// lineLog returns the mean of the logarithm of the distance from a point to the
// points of an edge. Bare numbers: a logarithm.
func lineLog(p geom.Vec, f [2]geom.Vec) float64 {
	d := f[1].Sub(f[0])
	lengthMM := d.Len()
	unit := d.Mul(1 / lengthMM)
	from := f[0].Sub(p)
	start := from.Dot(unit)
	offMM := from.Sub(unit.Mul(start)).Len()
	part := func(x float64) float64 {
		r2 := x*x + offMM*offMM
		if r2 == 0 {
			return 0
		}
		v := x*math.Log(r2)/2 - x
		if offMM > 0 {
			v += offMM * math.Atan2(x, offMM)
		}
		return v
	}
	return (part(start+lengthMM) - part(start)) / lengthMM
}

// gaussPlaces and gaussWeights are the Gauss–Legendre rule of 24 points on
// [−1, 1], the positive half. Source: Abramowitz & Stegun, table 25.4 (from
// memory; a test integrates powers with it). Read-only.
var (
	gaussPlaces = [12]float64{
		0.0640568928626056, 0.1911188674736163, 0.3150426796961634, 0.4337935076260451, 0.5454214713888396, 0.6480936519369755,
		0.7401241915785544, 0.8200019859739029, 0.8864155270044011, 0.9382745520027328, 0.9747285559713095, 0.9951872199970213,
	} // Read-only.
	gaussWeights = [12]float64{
		0.1279381953467522, 0.1258374563468283, 0.1216704729278034, 0.1155056680537256, 0.1074442701159656, 0.0976186521041139,
		0.0861901615319533, 0.0733464814110803, 0.0592985849154368, 0.0442774388174198, 0.0285313886289337, 0.0123412297999872,
	} // Read-only.
)
