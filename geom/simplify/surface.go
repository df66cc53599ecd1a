package simplify

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// surface is a mesh while its edges are being collapsed. Corners stand relative
// to its middle, so that the quadrics lose no digits far from the origin.
type surface struct {
	tree   *bvh.Tree // of the fine mesh
	fine   *mesh.Mesh
	middle geom.Vec
	start  []geom.Vec // places of the fine mesh: its corners, then the middles of its facets
	pos    []geom.Vec // corners as they stand now
	tris   [][3]int32
	dead   []bool    // dead[t]: triangle t is gone
	around [][]int32 // around[v]: triangles at corner v, dead ones too
	track  [][]int32 // track[t]: fine places (see start) that triangle t stands in for

	quadrics []quadric
	border   []bool  // border[v]: an edge of v is open
	kept     []bool  // kept[v]: v must stay where it is
	stamp    []int32 // stamp[v]: how often v has changed; -1 once it was merged into another
	mark     []int32 // scratch for countShared
	marks    int32
	shareMM  float64 // how far a fine place may lie from what stands in for it
	wishes   queue
}

// newSurface prepares a mesh; corners that are kept, and those of edges that are
// not of one or two facets, stay.
func newSurface(tree *bvh.Tree, kept []bool, shareMM float64) *surface {
	fine := tree.Mesh()
	n := len(fine.Verts)
	s := &surface{
		tree: tree, fine: fine, middle: fine.Box().Center(), shareMM: shareMM,
		start: make([]geom.Vec, n+len(fine.Tris)), tris: append([][3]int32(nil), fine.Tris...),
		dead: make([]bool, len(fine.Tris)), around: make([][]int32, n), track: make([][]int32, len(fine.Tris)),
		quadrics: make([]quadric, n), border: make([]bool, n), kept: append([]bool(nil), kept...),
		stamp: make([]int32, n), mark: make([]int32, n),
	}
	for v, p := range fine.Verts {
		s.start[v] = p.Sub(s.middle)
	}
	s.pos = append([]geom.Vec(nil), s.start[:n]...)
	for t, tri := range s.tris {
		s.start[n+t] = s.pos[tri[0]].Add(s.pos[tri[1]]).Add(s.pos[tri[2]]).Mul(1.0 / 3)
		s.track[t] = append(s.track[t], int32(n+t))
		for _, v := range tri {
			if len(s.around[v]) == 0 {
				s.track[t] = append(s.track[t], v)
			}
			s.around[v] = append(s.around[v], int32(t))
		}
	}
	s.weigh()
	return s
}

// weigh fills the quadrics: the plane of each facet, weighted by its area, at its
// three corners, and planes across open edges.
func (s *surface) weigh() {
	for t, tri := range s.tris {
		p := s.corners(int32(t))
		normal := areaVec(p)
		areaMM2 := normal.Len()
		if areaMM2 == 0 { // a facet that only closes a seam
			s.kept[tri[0]], s.kept[tri[1]], s.kept[tri[2]] = true, true, true
			continue
		}
		normal = normal.Mul(1 / areaMM2)
		for k, v := range tri {
			s.quadrics[v].add(p[0], normal, areaMM2)
			s.quadrics[v].weightMM2 += areaMM2
			s.weighEdge(tri, k, p[k], normal)
		}
	}
}

// borderWeight is how much more a border counts than a facet on the square of its
// edge. Common practice, no source.
const borderWeight = 100

// weighEdge looks at edge k of a facet: what is open gets a plane across it, what
// has more than two facets is kept.
func (s *surface) weighEdge(tri [3]int32, k int, p, normal geom.Vec) {
	v, w := tri[k], tri[(k+1)%3]
	switch uses := len(s.uses(v, w)); {
	case uses > 2:
		s.kept[v], s.kept[w] = true, true
	case uses == 1:
		s.border[v], s.border[w] = true, true
		edge := s.pos[w].Sub(s.pos[v])
		across := edge.Cross(normal)
		if length := across.Len(); length > 0 {
			s.quadrics[v].add(p, across.Mul(1/length), borderWeight*edge.LenSqr())
			s.quadrics[w].add(p, across.Mul(1/length), borderWeight*edge.LenSqr())
		}
	}
}

// uses returns the living triangles that have both corners.
func (s *surface) uses(v, w int32) (both []int32) {
	for _, t := range s.around[v] {
		if !s.dead[t] && has(s.tris[t], w) {
			both = append(both, t)
		}
	}
	return both
}

func has(tri [3]int32, v int32) bool { return tri[0] == v || tri[1] == v || tri[2] == v }

func (s *surface) corners(t int32) [3]geom.Vec {
	tri := s.tris[t]
	return [3]geom.Vec{s.pos[tri[0]], s.pos[tri[1]], s.pos[tri[2]]}
}

// areaVec returns the outward normal of a triangle, as long as its area.
func areaVec(p [3]geom.Vec) geom.Vec {
	return p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Mul(0.5)
}

// result returns the mesh as it stands, and origin[t], the triangle of the
// surface that triangle t of the mesh is.
func (s *surface) result() (m *mesh.Mesh, origin []int32) {
	m = &mesh.Mesh{}
	number := make([]int32, len(s.pos)) // new index + 1, 0 while unused
	for t, tri := range s.tris {
		if s.dead[t] {
			continue
		}
		for k, v := range tri {
			if number[v] == 0 {
				p := s.pos[v].Add(s.middle)
				if s.stamp[v] == 0 {
					p = s.fine.Verts[v]
				}
				m.Verts = append(m.Verts, p)
				number[v] = int32(len(m.Verts))
			}
			tri[k] = number[v] - 1
		}
		m.Tris = append(m.Tris, tri)
		origin = append(origin, int32(t))
	}
	return m, origin
}

// keep marks the corners around what could not be proven.
func (s *surface) keep(p *proof, origin []int32, kept []bool) {
	all := func(corners ...int32) {
		for _, v := range corners {
			kept[v] = true
		}
	}
	for _, t := range p.failedFine {
		all(s.fine.Tris[t][:]...)
	}
	for _, t := range p.failedCoarse {
		for _, place := range s.track[origin[t]] {
			if n := int32(len(s.fine.Verts)); place >= n {
				all(s.fine.Tris[place-n][:]...)
			}
		}
		all(s.tris[origin[t]][:]...)
		a, b, c := p.coarse.Mesh().Corners(t)
		for _, at := range [4]geom.Vec{a, b, c, a.Add(b).Add(c).Mul(1.0 / 3)} {
			near, _ := s.tree.Nearest(at, math.Inf(1))
			all(s.fine.Tris[near.Tri][:]...)
		}
	}
}
