package rearview

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
)

// narrow keeps of the part what can hide something of the field when it is
// raised between two heights: a corner runs straight up in the world and so
// along a line in the picture, between its places at both ends.
func (l *lifter) narrow(lowMM, highMM float64) {
	st, m := l.study, l.of.mesh
	if len(m.Tris) < worthFacets {
		return
	}
	keep := make([]bool, len(m.Tris))
	for _, k := range l.eyes {
		ends := [2]thrown{l.thrownAt(k, lowMM), l.thrownAt(k, highMM)}
		if ends[0].near || ends[1].near {
			return
		}
		for t, tri := range m.Tris {
			keep[t] = keep[t] || ends[0].mayHide(&ends[1], tri, st.windows[k])
		}
	}
	l.of.mesh = subset(m, keep)
	l.of.box = l.of.mesh.Box()
}

// worthFacets is from how many facets on it pays to look which of them matter.
const worthFacets = 64

// thrown is a part's corners in the picture of an eye.
type thrown struct {
	near  bool // something of it may stand between eye and mirror
	dots  []dot
	fails []uint8
}

func (l *lifter) thrownAt(k int, raisedMM float64) thrown {
	e := &l.study.sight.eyes[k]
	pose := geom.Shift(geom.Vec{0, 0, raisedMM}).After(l.study.sight.toRoad).After(l.of.pose)
	near := e.near.behind(l.study.sight.reflect.After(pose))
	road := e.road.behind(pose)
	out := thrown{
		near: near.mayMeet(l.of.box, l.study.windows[k]),
		dots: make([]dot, len(l.of.mesh.Verts)), fails: make([]uint8, len(l.of.mesh.Verts)),
	}
	for i, v := range l.of.mesh.Verts {
		if out.fails[i] = road.fails(v); out.fails[i] == 0 {
			out.dots[i] = road.lens.see(v)
		}
	}
	return out
}

// mayHide reports whether a triangle can meet a window between two throws. One
// that is cut at either end is kept unchecked.
func (t *thrown) mayHide(other *thrown, tri [3]int32, windows []pane) bool {
	r := emptyPane()
	common := uint8(255)
	cut := false
	for _, end := range [2]*thrown{t, other} {
		for _, i := range tri {
			common &= end.fails[i]
			if end.fails[i] != 0 {
				cut = true
			} else {
				r = r.grow(end.dots[i])
			}
		}
	}
	if cut {
		return common == 0
	}
	return meetsAny(r, windows)
}

// subset returns a mesh of some triangles, with the corners that they use.
func subset(m *mesh.Mesh, keep []bool) *mesh.Mesh {
	out := &mesh.Mesh{}
	place := make([]int32, len(m.Verts)) // one more than the new place
	for t, tri := range m.Tris {
		if !keep[t] {
			continue
		}
		for c, i := range tri {
			if place[i] == 0 {
				out.Verts = append(out.Verts, m.Verts[i])
				place[i] = int32(len(out.Verts))
			}
			tri[c] = place[i] - 1
		}
		out.Tris = append(out.Tris, tri)
	}
	return out
}
