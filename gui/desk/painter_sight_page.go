package desk

import (
	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/phrase"
)

// showSight draws eyes, mirror and glass, and the lines of sight to the road,
// as far as the picture of the car reaches.
func (p *Painter) showSight(out *Picture, s *State) {
	v := s.Answers.Seen.Value
	if v == nil || v.Result == nil {
		return
	}
	r := v.Result
	ring := func(points []geom.Vec, c render.RGB) {
		if len(points) > 2 {
			out.Overlay.Paths = append(out.Overlay.Paths, render.Path{Points: append(points[:len(points):len(points)], points[0]), Color: c, WidthPx: 2})
		}
	}
	corners := r.MirrorCorners()
	ring(corners[:], render.AccentColor)
	ring(s.Doc.RearView.GlassMM, render.AccentColor)
	endXMM := r.Eyes[0].AtMM[0]
	for i := range s.Scene.Parts {
		if part := &s.Scene.Parts[i]; part.Role != keepOut {
			endXMM = max(endXMM, part.Box.Max[0])
		}
	}
	const beyondMM = 400
	for i, ray := range r.Rays() {
		share := (endXMM + beyondMM - ray.Mirror[0]) / (ray.Road[0] - ray.Mirror[0])
		end := ray.Mirror.Add(ray.Road.Sub(ray.Mirror).Mul(min(1, share)))
		out.Overlay.Paths = append(out.Overlay.Paths, render.Path{Points: []geom.Vec{ray.Eye, ray.Mirror, end}, Color: tintColors[(i+3)%len(tintColors)], WidthPx: 2})
		out.Overlay.Labels = append(out.Overlay.Labels, render.Label{At: end, Text: phrase.Say(ray.Name)})
	}
	if !s.Answers.Seen.Fresh && !s.Answers.Seen.Rough {
		out.Note = phrase.Of("lines of sight of an earlier state: computing")
	}
}
