package desk

import (
	"slices"
	"strconv"

	"aftbay/geom/layout"
	"aftbay/geom/render"
	"aftbay/gui/phrase"
	"aftbay/thermal/spot"
)

// StudyOf returns the mounting study that is looked at, nil without one.
func StudyOf(s *State, a *Attention) *spot.Study {
	r := s.Answers.Spots.Value
	if r == nil || a.Study < 0 || a.Study >= len(r.Studies) {
		return nil
	}
	return &r.Studies[a.Study]
}

// SpotOf returns the spot that is looked at, nil without one.
func SpotOf(s *State, a *Attention) *spot.Spot {
	st := StudyOf(s, a)
	if st == nil || a.Rank < 1 || a.Rank > len(st.Spots) {
		return nil
	}
	return &st.Spots[a.Rank-1]
}

// showSpots draws the places of a study as numbered discs, the component itself
// in the chosen one, and where the part that it replaces sits now.
func (p *Painter) showSpots(out *Picture, s *State, a *Attention) {
	st := StudyOf(s, a)
	if st == nil {
		return
	}
	if a.Why {
		p.showWhy(out, s, st)
	}
	for i := range st.Spots {
		sp := &st.Spots[i]
		out.Overlay.Markers = append(out.Overlay.Markers, render.Marker{At: sp.PointMM, Text: strconv.Itoa(sp.Rank), Color: verdictColor(sp.Verdict)})
	}
	if st.Present != nil {
		out.Overlay.Labels = append(out.Overlay.Labels, render.Label{At: st.Present.PointMM, Text: "now: " + st.Present.Part})
	}
	switch {
	case s.Answers.Spots.Rough:
		out.Note = phrase.Of("first places, refining")
	case !s.Answers.Spots.Fresh:
		out.Note = phrase.Of("places of an earlier state: computing")
	}
	chosen := SpotOf(s, a)
	if chosen == nil {
		return
	}
	for i := range s.Scene.Parts {
		part := &s.Scene.Parts[i]
		out.Items[i].Ghost = part.Name != chosen.Host && part.Name != chosen.NearestPart && part.Name != st.Replaces
	}
	i := slices.IndexFunc(s.Scene.Doc.Spots, func(q layout.Spot) bool { return q.Name == st.Name })
	if i < 0 || i >= len(s.Scene.Spots) {
		return
	}
	c := &s.Scene.Spots[i]
	out.Items = append(out.Items, render.Item{
		Mesh: c.Mesh, Edges: p.edgesOf(c.Mesh), Pose: chosen.Pose, Closed: c.Closed, Color: render.AccentColor, Selected: true,
	})
	out.Parts = append(out.Parts, "")
	out.Overlay.Markers = slices.DeleteFunc(out.Overlay.Markers, func(m render.Marker) bool { return m.Text == strconv.Itoa(chosen.Rank) })
	if len(chosen.LeadMM) > 1 {
		out.Overlay.Paths = append(out.Overlay.Paths, render.Path{Points: chosen.LeadMM, Color: render.AccentColor, WidthPx: 2})
	}
}
