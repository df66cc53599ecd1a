package patch

import (
	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

const (
	// gapShare: a patch near a source shall be no longer than this share of the
	// gap to it, or its irradiation is uneven over it. Common practice, no source.
	gapShare = 0.25
	// finest bounds how many times finer than the wanted edge a patch becomes.
	finest = 2
)

// nearness tells how much finer the surfaces near sources shall be cut.
type nearness struct {
	sources [][]nearSource // sources[body]: those that may be near it; none for a source
	edgeMM  float64
}

type nearSource struct {
	tree *bvh.Tree
	back geom.Pose // vehicle frame to part frame
	box  geom.Box  // vehicle frame
}

func newNearness(bodies []Body, posed [][]geom.Vec, o Options) *nearness {
	n := &nearness{edgeMM: o.EdgeMM, sources: make([][]nearSource, len(bodies))}
	if o.Even {
		return n
	}
	boxes := make([]geom.Box, len(bodies))
	var all []nearSource
	for i := range bodies {
		b := &bodies[i]
		boxes[i] = geom.EmptyBox()
		for _, v := range posed[i] {
			boxes[i] = boxes[i].Grow(v)
		}
		if !b.Source || posed[i] == nil {
			continue
		}
		s := nearSource{tree: b.Tree, back: b.Pose.Inverse(), box: boxes[i]}
		if s.tree == nil {
			s.tree = bvh.Build(b.Mesh)
		}
		all = append(all, s)
	}
	for i := range bodies {
		for k := range all {
			if !bodies[i].Source && posed[i] != nil && all[k].box.GapMM(boxes[i]) < n.edgeMM/gapShare {
				n.sources[i] = append(n.sources[i], all[k])
			}
		}
	}
	return n
}

// finer returns how many times smaller than usual a patch at a point shall be,
// 1 to finest. A source's own surface is not cut finer. Bare numbers: a ratio.
func (n *nearness) finer(body int, point geom.Vec) float64 {
	sources := n.sources[body]
	if len(sources) == 0 {
		return 1
	}
	withinMM := n.edgeMM / gapShare
	at := geom.Box{Min: point, Max: point}
	for i := range sources {
		s := &sources[i]
		if s.box.GapMM(at) >= withinMM {
			continue
		}
		if near, ok := s.tree.Nearest(s.back.Point(point), withinMM); ok {
			withinMM = near.DistMM
		}
	}
	return min(finest, n.edgeMM/max(withinMM*gapShare, n.edgeMM/finest))
}

// pieces returns how many patches a body wants. Bare numbers: a count.
func (n *nearness) pieces(body int, m *mesh.Mesh, posed []geom.Vec) float64 {
	var count float64
	for _, t := range m.Tris {
		count += n.piecesOf(body, [3]geom.Vec{posed[t[0]], posed[t[1]], posed[t[2]]}, 0)
	}
	return count
}

// piecesOf returns how many patches a triangle wants; one much larger than a
// patch is asked in halves. Bare numbers: a count.
func (n *nearness) piecesOf(body int, corners [3]geom.Vec, depth int) float64 {
	k, longest := 0, -1.0
	for i := range corners {
		if l := corners[i].Sub(corners[(i+1)%3]).Len(); l > longest {
			k, longest = i, l
		}
	}
	a, b, c := corners[k], corners[(k+1)%3], corners[(k+2)%3]
	if len(n.sources[body]) > 0 && longest > longestShare*n.edgeMM && depth < deepest {
		mid := a.Add(b).Mul(0.5)
		return n.piecesOf(body, [3]geom.Vec{a, mid, c}, depth+1) + n.piecesOf(body, [3]geom.Vec{mid, b, c}, depth+1)
	}
	f := n.finer(body, a.Add(b).Add(c).Mul(1.0/3)) / n.edgeMM
	return b.Sub(a).Cross(c.Sub(a)).Len() / 2 * f * f
}
