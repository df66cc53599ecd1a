package desk

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// ErrFixed means that a part is not placed by a pose of its own.
var ErrFixed = say.New("a route has no pose of its own: move it by its handles, or edit its points")

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
		name = phrase.F("move %s and %d more", parts[0], len(parts)-1)
	}
	return d.shift(name, more, func(doc *layout.Document) error {
		return movementOf(geom.Shift(by)).parts(doc, parts)
	})
}

// NudgeGroup is Nudge for a whole group with all that is given in vehicle axes
// but sits on it.
func (d *Desk) NudgeGroup(group string, by geom.Vec, more bool) error {
	return d.shift(phrase.Of("move group ")+group, more, func(doc *layout.Document) error {
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
	if routeOf(doc, name) != nil {
		return nil, say.Errorf("%q: %w", name, ErrFixed)
	}
	return nil, say.Errorf("no part %q", name)
}

// routeOf returns the route of a name, nil if there is none.
func routeOf(doc *layout.Document, name string) *layout.Route {
	i := slices.IndexFunc(doc.Routes, func(r layout.Route) bool { return r.Name == name })
	if i < 0 {
		return nil
	}
	return &doc.Routes[i]
}

// shiftGroup moves a group with all that sits on it.
func shiftGroup(doc *layout.Document, group string, by geom.Vec) error {
	return movementOf(geom.Shift(by)).group(doc, group)
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
