package desk

import (
	"errors"
	"fmt"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// ErrFixed means that a part is not placed by a pose of its own.
var ErrFixed = errors.New("a route has no pose: move its points in the layout file")

// Place sets the pose of a part as an edit.
func (d *Desk) Place(part string, moveMM, turnDeg geom.Vec) error {
	return d.Edit("place "+part, func(doc *layout.Document) error {
		p, err := partOf(doc, part)
		if err != nil {
			return err
		}
		p.MoveMM, p.TurnDeg = moveMM, turnDeg
		return nil
	})
}

// Nudge shifts parts as an edit. With more set it belongs to the nudge before,
// so that undo takes back the whole way.
func (d *Desk) Nudge(parts []string, by geom.Vec, more bool) error {
	if len(parts) == 0 {
		return nil
	}
	name := "move " + parts[0]
	if len(parts) > 1 {
		name = fmt.Sprintf("move %s and %d more", parts[0], len(parts)-1)
	}
	return d.shift(name, more, func(doc *layout.Document) error {
		for _, part := range parts {
			p, err := partOf(doc, part)
			if err != nil {
				return err
			}
			shiftPart(p, by)
		}
		return nil
	})
}

// NudgeGroup is Nudge for a whole group with all that is given in vehicle axes
// but sits on it.
func (d *Desk) NudgeGroup(group string, by geom.Vec, more bool) error {
	return d.shift("move group "+group, more, func(doc *layout.Document) error {
		return shiftGroup(doc, group, by)
	})
}

// shift is Edit that joins the edit before if that has the same name.
func (d *Desk) shift(name string, more bool, change func(doc *layout.Document) error) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := len(d.history.Past)
	joins := more && n > 0 && d.history.Past[n-1].Name == name
	return d.edit(anEdit{name: name, joins: joins, after: d.at}, change)
}

func partOf(doc *layout.Document, name string) (*layout.Part, error) {
	i := slices.IndexFunc(doc.Parts, func(p layout.Part) bool { return p.Name == name })
	if i >= 0 {
		return &doc.Parts[i], nil
	}
	if slices.ContainsFunc(doc.Routes, func(r layout.Route) bool { return r.Name == name }) {
		return nil, fmt.Errorf("%q: %w", name, ErrFixed)
	}
	return nil, fmt.Errorf("no part %q", name)
}

// shiftGroup moves a group with its pivot, mounts, growth anchors, temperature lines,
// the joints and shaft ends it carries, routes and the points that spots serve.
func shiftGroup(doc *layout.Document, group string, by geom.Vec) error {
	in := map[string]bool{}
	for i := range doc.Parts {
		if p := &doc.Parts[i]; p.Group == group {
			in[p.Name] = true
			shiftPart(p, by)
		}
	}
	if len(in) == 0 {
		return fmt.Errorf("no part belongs to group %q", group)
	}
	for i := range doc.Groups {
		if g := &doc.Groups[i]; g.Name == group {
			shiftMounting(g, by)
		}
	}
	shiftDriveline(doc, group, by)
	for i := range doc.Routes {
		if doc.Routes[i].Group != group {
			continue
		}
		for k, p := range doc.Routes[i].PointsMM {
			doc.Routes[i].PointsMM[k] = p.Add(by)
		}
	}
	for i := range doc.Spots {
		if s := &doc.Spots[i]; in[s.Replaces] && s.ServeMM != nil {
			at := s.ServeMM.Add(by)
			s.ServeMM = &at
		}
	}
	return nil
}

// shiftDriveline moves the joints and shaft ends that a group carries.
func shiftDriveline(doc *layout.Document, group string, by geom.Vec) {
	for i := range doc.HalfShafts {
		if doc.HalfShafts[i].InnerGroup == group {
			doc.HalfShafts[i].InnerMM = doc.HalfShafts[i].InnerMM.Add(by)
		}
	}
	for i := range doc.ShaftLines {
		l := &doc.ShaftLines[i]
		if l.CrankGroup == group {
			l.CrankMM = l.CrankMM.Add(by)
		}
		if l.InputGroup == group {
			l.InputMM = l.InputMM.Add(by)
		}
	}
	if d := doc.Drop; d != nil && d.Group == group && d.CrankMM != nil {
		at := d.CrankMM.Add(by)
		d.CrankMM = &at
	}
}

// shiftMounting moves the pivot of a group, its centre of gravity and its mounts:
// they go along, so that the group rocks as it did.
func shiftMounting(g *layout.Group, by geom.Vec) {
	g.PivotMM = g.PivotMM.Add(by)
	if g.CgMM != nil {
		at := g.CgMM.Add(by)
		g.CgMM = &at
	}
	for i := range g.Mounts {
		g.Mounts[i].AtMM = g.Mounts[i].AtMM.Add(by)
	}
}

func shiftPart(p *layout.Part, by geom.Vec) {
	p.MoveMM = p.MoveMM.Add(by)
	if p.Growth != nil {
		p.Growth.AnchorMM = p.Growth.AnchorMM.Add(by)
	}
	if p.Thermal != nil && p.Thermal.HeldAlong != nil {
		p.Thermal.HeldAlong.FromMM = p.Thermal.HeldAlong.FromMM.Add(by)
		p.Thermal.HeldAlong.ToMM = p.Thermal.HeldAlong.ToMM.Add(by)
	}
}

// NudgeGroupOf is NudgeGroup for the group that the first part belongs to; a
// part without one moves alone.
func (d *Desk) NudgeGroupOf(parts []string, by geom.Vec, more bool) error {
	if len(parts) == 0 {
		return nil
	}
	s := d.State()
	if s.Scene == nil {
		return ErrNothingOpen
	}
	if i, ok := s.Scene.Index(parts[0]); ok && s.Scene.Parts[i].Group != "" {
		return d.NudgeGroup(s.Scene.Parts[i].Group, by, more)
	}
	return d.Nudge(parts, by, more)
}
