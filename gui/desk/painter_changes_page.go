package desk

import (
	"aftbay/geom/bvh"
	"aftbay/geom/compare"
	"aftbay/geom/render"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// showChanges draws where moved, reshaped and removed parts were: see-through.
// A reshaped part that is selected is coloured by how far it lies off its old
// self.
func (p *Painter) showChanges(out *Picture, s *State, a *Attention) {
	r := s.Answers.Changes.Value
	if r == nil || s.Against == nil {
		return
	}
	changed := map[string]bool{}
	for i := range r.Parts.Moved {
		changed[r.Parts.Moved[i].Name] = true
	}
	for i := range r.Parts.Reshaped {
		changed[r.Parts.Reshaped[i].Name] = true
	}
	for _, gone := range r.Parts.Removed {
		changed[gone.Name] = true
	}
	if len(changed) == 0 {
		return
	}
	for i := range s.Against.Scene.Parts {
		part := &s.Against.Scene.Parts[i]
		if !changed[part.Name] || a.Hidden[part.Name] {
			continue
		}
		out.Items = append(out.Items, render.Item{
			Mesh: part.Mesh, Edges: p.edgesOf(part.Mesh), Pose: part.Pose, Closed: part.Closed, Color: startColor, Ghost: true,
		})
		out.Parts = append(out.Parts, "")
	}
	out.Note = phrase.Of("see-through grey: as it was (") + r.Old + ")"
	for i := range r.Parts.Reshaped {
		if re := &r.Parts.Reshaped[i]; len(a.Selected) > 0 && re.Name == a.Selected[0] {
			p.showOffsets(out, s, re)
		}
	}
}

// showOffsets colours a reshaped part by how far it lies off its old surface.
func (p *Painter) showOffsets(out *Picture, s *State, re *compare.Reshape) {
	i, ok := s.Scene.Index(re.Name)
	k, was := s.Against.Scene.Index(re.Name)
	if !ok || !was || out.Items[i].Mesh != s.Scene.Parts[i].Mesh {
		return
	}
	key := [2]*bvh.Tree{s.Scene.Parts[i].Tree, s.Against.Scene.Parts[k].Tree}
	if p.offsetsOf != key {
		p.offsetsOf, p.offsets = key, compare.Offsets(&s.Scene.Parts[i], key[1])
	}
	out.Items[i].Field, out.Items[i].Ghost = p.offsets, false
	out.Field = &render.FieldScale{
		Title: re.Name + phrase.Of("\noff its old surface"), Unit: "mm", High: float32(re.Grown.MM),
		Foot: "largest " + units.FormatMM(re.Grown.MM),
	}
}
