package desk

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/gauge"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Wanted is what a click asks for while measuring.
type Wanted int

// What is wanted: the nearest corner or edge, else the point itself; the face, or
// its axis; the whole part.
const (
	WantNearest Wanted = iota
	WantFace
	WantPart
)

// Ends finds what lies under the pointer, for measuring. It remembers the faces of
// meshes that are shown; use it from one goroutine at a time.
type Ends struct {
	faces map[*mesh.Mesh]*mesh.Faces
}

// NewEnds returns one that remembers nothing yet.
func NewEnds() *Ends { return &Ends{faces: map[*mesh.Mesh]*mesh.Faces{}} }

// Reach of a corner and of an edge, in the toolkit's units: an edge is easier to
// hit than its end. Common practice, no source.
const (
	cornerReach = 9
	edgeReach   = 6
)

// End returns what a pick means, and in words what it is. unitMM is the length
// that one of the toolkit's units stands for there.
func (e *Ends) End(p *Picture, pick render.Pick, want Wanted, unitMM float64) (end layout.MeasuredEnd, words string, err error) {
	if p == nil || pick.Item < 0 || pick.Item >= len(p.Parts) || p.Parts[pick.Item] == "" {
		return end, "", say.New("only parts of the layout can be measured")
	}
	it := &p.Items[pick.Item]
	at := it.Pose.Inverse().Point(pick.Point)
	end = layout.MeasuredEnd{Part: p.Parts[pick.Item], What: string(gauge.Point), AtMM: shortened(at)}
	switch want {
	case WantPart:
		end.What = string(gauge.Part)
		return end, phrase.Of("the whole of ") + end.Part, nil
	case WantFace:
		return e.face(p, it.Mesh, pick.Triangle, end)
	}
	if run, near := nearestEdge(it.Mesh, it.Edges, at, cornerReach*unitMM); near {
		for _, corner := range run {
			if corner.Sub(at).Len() <= cornerReach*unitMM {
				end.AtMM = shortened(corner)
				return end, phrase.Of("corner of ") + end.Part, nil
			}
		}
		if bvh.OnSegment(at, run[0], run[1]).Sub(at).Len() <= edgeReach*unitMM {
			end.What, end.AtMM, end.ToMM = string(gauge.Edge), shortened(run[0]), shortened(run[1])
			return end, phrase.F("edge of %s, %s long", end.Part, units.FormatMM(run[1].Sub(run[0]).Len())), nil
		}
	}
	return end, phrase.Of("point on ") + end.Part, nil
}

// face turns an end into the axis of a round face or a flat face.
func (e *Ends) face(p *Picture, m *mesh.Mesh, tri int, end layout.MeasuredEnd) (layout.MeasuredEnd, string, error) {
	if tri < 0 {
		return end, "", say.New("that is the face of a cut: click a surface of the part")
	}
	faces, known := e.faces[m]
	if !known {
		faces = mesh.NewFaces(m)
		e.forget(p)
		e.faces[m] = faces
	}
	if r, ok := faces.Round(tri); ok {
		end.What, end.AtMM, end.ToMM = string(gauge.Axis), shortened(r.From), shortened(r.To)
		return end, phrase.F("axis of a round face of %s, diameter %s", end.Part, units.FormatMM(2*r.RadiusMM)), nil
	}
	n, facets, ok := faces.Flat(tri)
	if !ok {
		return end, "", say.Errorf("no face of %s can be told there: click beside it", end.Part)
	}
	const outMM = 100 // long enough that rounding does not turn it
	end.What, end.ToMM = string(gauge.Face), shortened(end.AtMM.Add(n.Mul(outMM)))
	words := phrase.Of("flat face of ") + end.Part
	if len(facets) == 1 {
		words = phrase.Of("facet of ") + end.Part + ", as a plane"
	}
	return end, words, nil
}

// forget forgets the meshes that a picture does not show any more.
func (e *Ends) forget(p *Picture) {
	for m := range e.faces {
		if !slices.ContainsFunc(p.Items, func(it render.Item) bool { return it.Mesh == m }) {
			delete(e.faces, m)
		}
	}
}

// nearestEdge returns the edge nearest to a point among those within reach, as
// far as it runs straight over several.
func nearestEdge(m *mesh.Mesh, edges [][2]int32, at geom.Vec, withinMM float64) (ends [2]geom.Vec, ok bool) {
	found := -1
	for i, e := range edges {
		if offMM := bvh.OnSegment(at, m.Verts[e[0]], m.Verts[e[1]]).Sub(at).Len(); offMM <= withinMM {
			found, withinMM = i, offMM
		}
	}
	if found < 0 {
		return ends, false
	}
	a, b := edges[found][0], edges[found][1]
	dir := m.Verts[b].Sub(m.Verts[a]).Normalize()
	return [2]geom.Vec{m.Verts[straightOn(m, edges, a, dir.Mul(-1))], m.Verts[straightOn(m, edges, b, dir)]}, true
}

// straightOn follows edges from a corner in a direction for as long as they go on
// straight, and returns the last corner.
func straightOn(m *mesh.Mesh, edges [][2]int32, from int32, dir geom.Vec) int32 {
	const straight = 1 - 1e-6 // 0.08°
	for range edges {
		next := from
		for _, e := range edges {
			for k := range e {
				if run := m.Verts[e[1-k]].Sub(m.Verts[from]); e[k] == from && run.Len() > 0 && run.Normalize().Dot(dir) > straight {
					next = e[1-k]
				}
			}
		}
		if next == from {
			break
		}
		from = next
	}
	return from
}
