package mesh

import (
	"math"
	"slices"

	"aftbay/geom"
)

// shell is a set of facets joined over edges of exactly two facets.
type shell struct {
	tris      []int32 // in the order of the flood
	sealed    bool    // no free border once wound alike: it has an inside
	volumeMM3 float64 // signed, as wound after turning; valid if sealed
	box       geom.Box
	turned    int // facets to be turned
}

// maxNested is the number of shells up to which nests are looked for: the work
// grows with its square. Beyond it whole shells are left as they face.
const maxNested = 4096

// flatness is the volume, as a share of the cube of the box diagonal, below
// which a sealed shell encloses nothing but rounding (two facets back to back).
const flatness = 1e-12

// facingOut returns, for every facet, whether it must be turned so that each
// shell of the facets kept, whose edges are given, is wound alike and the
// outermost shells enclose a positive volume.
//
// Where a shell lies within another it may be a hollow or a body of its own, so
// it keeps the winding of most of its facets, as does a sheet; only when the
// shell around it is turned as a whole is it turned too. One-sided surfaces
// that cannot be wound alike are left as they are.
func facingOut(m *Mesh, keep []bool, edges edgeTable) (turn []bool) {
	turn = make([]bool, len(m.Tris))
	shells, shellOf := windAlike(m, keep, edges, turn)
	if len(shells) > maxNested {
		return turn
	}
	seal(m, edges, turn, shells, shellOf)
	for _, i := range insideOut(m, shells) {
		for _, t := range shells[i].tris {
			turn[t] = !turn[t]
		}
	}
	return turn
}

// insideOut returns the shells to be turned as a whole.
func insideOut(m *Mesh, shells []shell) []int {
	all := make([]int, len(shells))
	for i := range all {
		all[i] = i
	}
	// Those that enclose a negative volume and are not within another...
	var outermost []int
	for i, s := range shells {
		if s.sealed && s.volumeMM3 < -flatness*math.Pow(s.box.DiagonalMM(), 3) && !isWithinOdd(m, shells, i, all) {
			outermost = append(outermost, i)
		}
	}
	// ...take along what lies within them.
	found := slices.Clone(outermost)
	for i, s := range shells {
		if s.sealed && !slices.Contains(outermost, i) && isWithinOdd(m, shells, i, outermost) {
			found = append(found, i)
		}
	}
	return found
}

// link is one facet's neighbour over a two-facet edge.
type link struct {
	tri   int32
	alike bool // both facets are wound the same way
}

// neighbours are the links of one facet.
type neighbours struct {
	to    [3]link // over one edge each
	count int32
}

func (n *neighbours) add(l link) {
	n.to[n.count] = l
	n.count++
}

// windAlike floods over two-facet edges and marks in turn the fewest facets of
// each shell that make it wound alike. shellOf[t] is -1 for facets not kept.
func windAlike(m *Mesh, keep []bool, edges edgeTable, turn []bool) (shells []shell, shellOf []int32) {
	links := make([]neighbours, len(m.Tris))
	edges.each(func(e edge) {
		if len(e.uses) != 2 {
			return
		}
		x, y := e.uses[0], e.uses[1]
		alike := x.forward != y.forward
		links[x.tri].add(link{y.tri, alike})
		links[y.tri].add(link{x.tri, alike})
	})

	shellOf = make([]int32, len(m.Tris))
	for t := range shellOf {
		shellOf[t] = -1
	}
	for t := range m.Tris {
		if keep[t] && shellOf[t] < 0 {
			shells = append(shells, flood(int32(t), int32(len(shells)), links, shellOf, turn))
		}
	}
	return shells, shellOf
}

// flood gathers the shell of the facet seed.
func flood(seed, number int32, links []neighbours, shellOf []int32, turn []bool) shell {
	s := shell{tris: []int32{seed}, box: geom.EmptyBox()}
	shellOf[seed] = number
	twisted := false
	for next := 0; next < len(s.tris); next++ {
		t := s.tris[next]
		if turn[t] {
			s.turned++
		}
		for _, l := range links[t].to[:links[t].count] {
			want := turn[t] == l.alike // wound alike: as this one is turned; else the other way
			if shellOf[l.tri] < 0 {
				shellOf[l.tri] = number
				turn[l.tri] = want
				s.tris = append(s.tris, l.tri)
			} else if turn[l.tri] != want {
				twisted = true
			}
		}
	}
	switch {
	case twisted:
		for _, t := range s.tris {
			turn[t] = false
		}
		s.turned = 0
	case 2*s.turned > len(s.tris):
		for _, t := range s.tris {
			turn[t] = !turn[t]
		}
		s.turned = len(s.tris) - s.turned
	}
	return s
}

// crowd is how many facets on one edge are still sorted out; real parts have
// four or six there, and the work grows with the square.
const crowd = 64

// seal fills box, sealed and volumeMM3 of each shell.
func seal(m *Mesh, edges edgeTable, turn []bool, shells []shell, shellOf []int32) {
	for i := range shells {
		shells[i].sealed = true
		shells[i].measure(m, turn)
	}
	// A shell has a border where its own uses of an edge do not cancel.
	edges.each(func(e edge) {
		for _, u := range e.uses {
			net := 0
			for _, v := range e.uses[:min(len(e.uses), crowd)] {
				switch {
				case shellOf[v.tri] != shellOf[u.tri]:
				case v.forward != turn[v.tri]:
					net++
				default:
					net--
				}
			}
			if net != 0 || len(e.uses) > crowd {
				shells[shellOf[u.tri]].sealed = false
			}
		}
	})
}

// measure fills the box and the volume about its centre.
func (s *shell) measure(m *Mesh, turn []bool) {
	for _, t := range s.tris {
		for _, v := range m.Tris[t] {
			p := &m.Verts[v]
			for k := range 3 {
				s.box.Min[k], s.box.Max[k] = min(s.box.Min[k], p[k]), max(s.box.Max[k], p[k])
			}
		}
	}
	var volume sum
	centre := s.box.Center()
	for _, t := range s.tris {
		a, b, c := m.Corners(int(t))
		det := a.Sub(centre).Dot(b.Sub(centre).Cross(c.Sub(centre)))
		if turn[t] {
			det = -det
		}
		volume.add(det / 6)
	}
	s.volumeMM3 = volume.value()
}

// isWithinOdd reports whether shell i lies inside an odd number of the other
// sealed shells named, judged by its first corner.
func isWithinOdd(m *Mesh, shells []shell, i int, others []int) bool {
	p, _, _ := m.Corners(int(shells[i].tris[0]))
	odd := false
	for _, o := range others {
		if o != i && shells[o].sealed && shells[o].box.GapMM(geom.Box{Min: p, Max: p}) == 0 && encloses(m, shells[o].tris, p) {
			odd = !odd
		}
	}
	return odd
}

// encloses reports whether a sealed set of facets winds around p, whichever way
// it faces: the facets' solid angles sum to a full sphere inside, to 0 outside.
//
// Source: A. van Oosterom, J. Strackee, "The solid angle of a plane triangle",
// IEEE Trans. Biomed. Eng. BME-30(2), 1983 (from memory).
func encloses(m *Mesh, tris []int32, p geom.Vec) bool {
	var half sum // half the solid angle
	for _, t := range tris {
		a, b, c := m.Corners(int(t))
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Len(), b.Len(), c.Len()
		half.add(math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb))
	}
	return math.Abs(half.value()) > math.Pi // half of the full 2π
}
