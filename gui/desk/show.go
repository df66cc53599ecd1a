package desk

import (
	"maps"
	"slices"

	"aftbay/geom"
)

// PartsWithin returns the parts of a picture that lie wholly within what inside
// says of their corners. Hidden and see-through ones are left out: what cannot be
// clicked cannot be boxed.
func PartsWithin(p *Picture, inside func(corner geom.Vec) bool) []string {
	var out []string
	for i := range p.Items {
		it := &p.Items[i]
		if it.Hidden || it.Ghost || it.Mesh == nil || len(it.Mesh.Verts) == 0 || p.Parts[i] == "" {
			continue
		}
		box := it.Mesh.Box().Corners()
		all := !slices.ContainsFunc(box[:], func(c geom.Vec) bool { return !inside(it.Pose.Point(c)) })
		if !all { // the box may reach out where the part does not
			all = !slices.ContainsFunc(it.Mesh.Verts, func(v geom.Vec) bool { return !inside(it.Pose.Point(v)) })
		}
		if all {
			out = append(out, p.Parts[i])
		}
	}
	return out
}

// HideSelected hides what is selected and selects nothing.
func (a *Attention) HideSelected() {
	for _, part := range a.Selected {
		a.Hide(part, true)
	}
	a.Selected = nil
}

// ShowAll shows all parts, none see-through by hand.
func (a *Attention) ShowAll() { a.Hidden, a.Clear = nil, nil }

// ToggleClear makes what is selected see-through, or solid again if all of it is.
func (a *Attention) ToggleClear() {
	next := maps.Clone(a.Clear)
	if next == nil {
		next = map[string]bool{}
	}
	clear := slices.ContainsFunc(a.Selected, func(part string) bool { return !next[part] })
	for _, part := range a.Selected {
		if clear {
			next[part] = true
		} else {
			delete(next, part)
		}
	}
	a.Clear = next
}
