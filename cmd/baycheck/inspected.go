package main

import (
	"context"
	"encoding/hex"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// inspectedParts is the JSON of inspect.
type inspectedParts struct {
	Parts []inspectedPart `json:"parts"`
	Notes []string        `json:"notes,omitempty"` // mesh files that have changed since the layout was saved
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
	Sheet      bool        `json:"sheet"` // open, and no solid that lacks facets
	Faults     faults      `json:"faults"`
	Places     []place     `json:"places,omitempty"` // of the faults, the first of each kind
	Said       []say.Text  `json:"said,omitempty"`
	SHA256     string      `json:"mesh_sha256,omitempty"` // of the mesh file; none for a route
	Changed    bool        `json:"mesh_changed"`          // since the layout was saved
	Posed      posedPart   `json:"posed"`
	InertiaMM5 [][]float64 `json:"inertia_mm5"` // unit density, about the centroid, vehicle axes
}

type faults struct {
	OpenEdges        int `json:"open_edges"`
	NonManifoldEdges int `json:"non_manifold_edges"`
	Degenerate       int `json:"degenerate"`
	Duplicate        int `json:"duplicate"`
	Flipped          int `json:"flipped"`
	SelfCrossings    int `json:"self_crossings"` // pairs of facets of the mended mesh that cross
}

// place is where a fault is, in the part frame.
type place struct {
	Kind     string   `json:"kind"`
	Triangle int      `json:"triangle"`
	AtMM     geom.Vec `json:"at_mm"`
}

type posedPart struct {
	BoxMinMM   geom.Vec  `json:"box_min_mm"`
	BoxMaxMM   geom.Vec  `json:"box_max_mm"`
	CentroidMM *geom.Vec `json:"centroid_mm"`
}

func inspected(ctx context.Context, s *scene.Scene, workers int) (inspectedParts, error) {
	out := inspectedParts{Parts: make([]inspectedPart, len(s.Parts))}
	err := geom.Each(ctx, workers, len(s.Parts), nil, func(i int) error {
		p := &s.Parts[i]
		one := inspectedOne(p)
		sound, err := p.Soundness(ctx)
		if err != nil {
			return fmt.Errorf("part %q: %w", p.Name, err)
		}
		one.Faults.SelfCrossings = sound.SelfCrossings
		one.Places = placesOf(sound.Places)
		out.Parts[i] = one
		return nil
	})
	return out, err
}

// sound returns what was found of facets that cross, by mesh.
func (r inspectedParts) sound(s *scene.Scene) desk.Sound {
	known := desk.Sound{}
	for i := range s.Parts {
		known[s.Parts[i].Mesh] = scene.Soundness{SelfCrossings: r.Parts[i].Faults.SelfCrossings}
	}
	return known
}

// placesShown is how many places of one kind are listed.
const placesShown = 20

func placesOf(list []scene.Fault) []place {
	var out []place
	shown := map[string]int{}
	for _, f := range list {
		if shown[f.Kind]++; shown[f.Kind] <= placesShown {
			out = append(out, place{f.Kind, f.Tri, f.At})
		}
	}
	return out
}

func inspectedOne(p *scene.Part) inspectedPart {
	box := p.AsRead.Box()
	h := p.Health
	one := inspectedPart{
		Name: p.Name, Role: p.Role, Triangles: len(p.AsRead.Tris), BoxMinMM: box.Min, BoxMaxMM: box.Max,
		AreaMM2: mesh.Measure(p.AsRead).AreaMM2, Closed: h.Closed, Sheet: p.Sheet, Said: p.Said,
		Faults: faults{
			OpenEdges: h.OpenEdges, NonManifoldEdges: h.NonManifoldEdges, Degenerate: h.Degenerate, Duplicate: h.Duplicate, Flipped: h.Flipped,
		},
		Posed: posedPart{BoxMinMM: p.Box.Min, BoxMaxMM: p.Box.Max},
	}
	if p.Route == nil {
		one.SHA256, one.Changed = hex.EncodeToString(p.Hash[:]), p.Changed != nil
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
