package main

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
)

// inspectedParts is the JSON of inspect.
type inspectedParts struct {
	Parts []inspectedPart `json:"parts"`
}

// inspectedPart tells one mesh as read, in its own frame, and as posed; volume,
// centroid and inertia are those of the solid with its facets turned outward.
type inspectedPart struct {
	Name       string      `json:"name"`
	Role       string      `json:"role"`
	Triangles  int         `json:"triangles"`
	BoxMinMM   geom.Vec    `json:"box_min_mm"`
	BoxMaxMM   geom.Vec    `json:"box_max_mm"`
	AreaMM2    float64     `json:"area_mm2"`
	VolumeMM3  *float64    `json:"volume_mm3"` // nil for an open sheet
	CentroidMM *geom.Vec   `json:"centroid_mm"`
	Closed     bool        `json:"closed"`
	Faults     faults      `json:"faults"`
	Said       []string    `json:"said,omitempty"`
	Posed      posedPart   `json:"posed"`
	InertiaMM5 [][]float64 `json:"inertia_mm5"` // unit density, about the centroid, vehicle axes
}

type faults struct {
	OpenEdges        int `json:"open_edges"`
	NonManifoldEdges int `json:"non_manifold_edges"`
	Degenerate       int `json:"degenerate"`
	Duplicate        int `json:"duplicate"`
	Flipped          int `json:"flipped"`
}

type posedPart struct {
	BoxMinMM   geom.Vec  `json:"box_min_mm"`
	BoxMaxMM   geom.Vec  `json:"box_max_mm"`
	CentroidMM *geom.Vec `json:"centroid_mm"`
}

func inspected(s *scene.Scene) inspectedParts {
	out := inspectedParts{Parts: []inspectedPart{}}
	for i := range s.Parts {
		out.Parts = append(out.Parts, inspectedOne(&s.Parts[i]))
	}
	return out
}

func inspectedOne(p *scene.Part) inspectedPart {
	box := p.AsRead.Box()
	h := p.Health
	one := inspectedPart{
		Name: p.Name, Role: p.Role, Triangles: len(p.AsRead.Tris), BoxMinMM: box.Min, BoxMaxMM: box.Max,
		AreaMM2: mesh.Measure(p.AsRead).AreaMM2, Closed: h.Closed, Said: p.Said,
		Faults: faults{h.OpenEdges, h.NonManifoldEdges, h.Degenerate, h.Duplicate, h.Flipped},
		Posed:  posedPart{BoxMinMM: p.Box.Min, BoxMaxMM: p.Box.Max},
	}
	if !p.Closed {
		return one
	}
	volume, centroid := p.Measures.VolumeMM3, p.Measures.CentroidMM
	posed := p.Pose.Point(centroid)
	one.VolumeMM3, one.CentroidMM, one.Posed.CentroidMM = &volume, &centroid, &posed
	inertia := p.Pose.R.Mul3(p.Measures.InertiaMM5).Mul3(p.Pose.R.Transpose())
	for r := range 3 {
		row := inertia.Row(r)
		one.InertiaMM5 = append(one.InertiaMM5, row[:])
	}
	return one
}
