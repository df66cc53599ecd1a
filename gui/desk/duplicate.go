package desk

import (
	"bytes"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// CopyParts puts a copy of each part or route into the layout, in the same place,
// as one edit; it returns what they are called.
func (d *Desk) CopyParts(parts []string) (names []string, err error) {
	err = d.Edit("copy "+Load{Parts: parts}.text(), func(doc *layout.Document) error {
		names, err = copies(doc, parts, func(*layout.Part) error { return nil }, func(*layout.Route) {})
		return err
	})
	return names, err
}

// copies appends a copy of each part or route with a name of its own, changed by
// change or bend.
func copies(doc *layout.Document, parts []string, change func(p *layout.Part) error, bend func(r *layout.Route)) (names []string, err error) {
	if len(parts) == 0 {
		return nil, say.New("select the part first")
	}
	taken := map[string]bool{}
	for _, name := range partNames(doc) {
		taken[name] = true
	}
	for _, name := range parts {
		if r := routeOf(doc, name); r != nil {
			c := *r
			c.Name, c.PointsMM = freeName(name, taken), slices.Clone(r.PointsMM)
			bend(&c)
			taken[c.Name] = true
			doc.Routes, names = append(doc.Routes, c), append(names, c.Name)
			continue
		}
		p, err := partOf(doc, name)
		if err != nil {
			return nil, err
		}
		all, err := copyOf(&layout.Document{Parts: []layout.Part{*p}})
		if err != nil {
			return nil, err
		}
		c := all.Parts[0]
		c.Name = freeName(name, taken)
		if err := change(&c); err != nil {
			return nil, err
		}
		taken[c.Name] = true
		doc.Parts, names = append(doc.Parts, c), append(names, c.Name)
	}
	return names, nil
}

// MirrorParts puts a mirror image of each part across the car's middle plane into
// the layout, as one edit; it returns what they are called. The mirrored meshes
// are new files of the layout; undo takes them back.
func (d *Desk) MirrorParts(parts []string) (names []string, err error) {
	d.mu.Lock()
	s, folder, refused := d.base, d.folder, d.keep.refuses()
	d.mu.Unlock()
	switch {
	case s == nil:
		return nil, ErrNothingOpen
	case refused != nil:
		return nil, refused
	}
	files := map[string]string{} // mirrored mesh file of each
	err = d.Edit("mirror "+Load{Parts: parts}.text(), func(doc *layout.Document) error {
		middleMM := middlePlaneMM(doc)
		names, err = copies(doc, parts, func(p *layout.Part) error {
			key := p.Mesh + "\n" + p.MeshUnit
			if files[key] == "" {
				file, data, err := mirrorFile(folder, p, d.made)
				if err == nil {
					err = d.makeFile(file, data)
				}
				if err != nil {
					return err
				}
				files[key] = file
			}
			p.Mesh = files[key]
			p.Alternatives = nil // their meshes would have to be mirrored too
			mirrorPart(p, middleMM)
			return nil
		}, func(r *layout.Route) {
			for i, at := range r.PointsMM {
				r.PointsMM[i] = acrossY(at, middleMM)
			}
		})
		return err
	})
	return names, err
}

// middlePlaneMM returns where the car's middle plane cuts the Y axis: in the middle of
// its axles, at 0 without any.
func middlePlaneMM(doc *layout.Document) (middleMM float64) {
	if v := doc.Vehicle; v != nil {
		return (v.FrontAxleMM[1] + v.RearAxleMM[1]) / 2
	}
	return 0
}

// mirrorFile returns the mesh of a part, mirrored in its own frame, as a file in the
// same unit.
func mirrorFile(folder *layout.Folder, p *layout.Part, others made) (file string, stl []byte, err error) {
	data, err := folder.ReadFile(p.Mesh)
	if err != nil {
		return "", nil, err
	}
	m, err := mesh.ReadSTL(data)
	if err != nil {
		return "", nil, say.Errorf("%s: %w", p.Mesh, err)
	}
	var out bytes.Buffer
	if err := mirrorMesh(m).WriteSTL(&out, p.Name); err != nil {
		return "", nil, say.Errorf("mesh of %s: %w", p.Name, err)
	}
	return freeFile(folder, p.Name, others), out.Bytes(), nil
}

// mirrorMesh returns the mesh with Y reversed, its facets still facing outward.
func mirrorMesh(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, v := range m.Verts {
		out.Verts = append(out.Verts, geom.Vec{v[0], -v[1] + 0, v[2]})
	}
	for _, t := range m.Tris {
		out.Tris = append(out.Tris, [3]int32{t[0], t[2], t[1]})
	}
	return out
}

// acrossY returns the place of a point in the mirror of the car's middle plane.
func acrossY(at geom.Vec, middleMM float64) geom.Vec {
	return geom.Vec{at[0], 2*middleMM - at[1] + 0, at[2]}
}

// mirrorPart puts a part, whose mesh is mirrored already, in the mirrored place:
// turns about X and Z go the other way round.
func mirrorPart(p *layout.Part, middleMM float64) {
	across := func(v geom.Vec) geom.Vec { return acrossY(v, middleMM) }
	p.TurnDeg = geom.Vec{-p.TurnDeg[0] + 0, p.TurnDeg[1], -p.TurnDeg[2] + 0}
	p.MoveMM = across(p.MoveMM)
	if p.Growth != nil {
		p.Growth.AnchorMM = across(p.Growth.AnchorMM)
	}
	if p.Thermal != nil && p.Thermal.HeldAlong != nil {
		p.Thermal.HeldAlong.FromMM, p.Thermal.HeldAlong.ToMM = across(p.Thermal.HeldAlong.FromMM), across(p.Thermal.HeldAlong.ToMM)
	}
}

// GroupParts makes parts a group, a new one or one that there is, as an edit; ""
// takes them out of theirs. A group that no part belongs to any more stays, with
// its motion, until it is taken out in the editor.
func (d *Desk) GroupParts(parts []string, group string) error {
	name := "group " + Load{Parts: parts}.text() + " as " + group
	if group == "" {
		name = "ungroup " + Load{Parts: parts}.text()
	}
	middle := BoxOf(&State{Scene: d.State().Scene}, parts).Center()
	return d.Edit(name, func(doc *layout.Document) error {
		known := group == ""
		for i := range doc.Groups {
			known = known || doc.Groups[i].Name == group
		}
		if !known {
			doc.Groups = append(doc.Groups, layout.Group{Name: group, PivotMM: rounded(middle, 1)})
		}
		for _, part := range parts {
			if r := routeOf(doc, part); r != nil {
				r.Group = group
				continue
			}
			p, err := partOf(doc, part)
			if err != nil {
				return err
			}
			p.Group = group
		}
		return nil
	})
}
