package desk

import (
	"context"
	"fmt"
	"strings"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/gui/phrase"
)

// Sound tells of each shape of a scene, by its mesh, where it is not what a
// mesh should be.
type Sound map[*mesh.Mesh]scene.Soundness

// soundOf looks at the shapes of a scene; what is known of a mesh is kept.
func soundOf(ctx context.Context, s *scene.Scene, known Sound, workers int, progress geom.Progress) (*Sound, error) {
	var wanted []*scene.Shape
	out := Sound{}
	for i := range s.Parts {
		shape := &s.Parts[i].Shape
		had, ok := known[shape.Mesh]
		if _, listed := out[shape.Mesh]; !ok && !listed {
			wanted = append(wanted, shape)
		}
		out[shape.Mesh] = had
	}
	found := make([]scene.Soundness, len(wanted))
	err := geom.Each(ctx, workers, len(wanted), progress, func(i int) (err error) {
		found[i], err = wanted[i].Soundness(ctx)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, shape := range wanted {
		out[shape.Mesh] = found[i]
	}
	return &out, nil
}

// faultKind is how a kind of fault is counted, and its letter and colour in the
// scene.
type faultKind struct {
	kind, one, many, letter string
	color                   render.RGB
}

// faultKinds are the kinds in the order in which they are told. Read-only.
var faultKinds = []faultKind{
	{mesh.OpenEdge.String(), phrase.Of("open edge"), phrase.Of("open edges"), "o", render.ShortColor},
	{mesh.NonManifoldEdge.String(), phrase.Of("edge of more than two facets"), phrase.Of("edges of more than two facets"), "e", render.ShortColor},
	{mesh.Flipped.String(), phrase.Of("facet that faced the wrong way"), phrase.Of("facets that faced the wrong way"), "w", render.CloseColor},
	{mesh.Degenerate.String(), phrase.Of("facet without area"), phrase.Of("facets without area"), "a", render.NoRuleColor},
	{mesh.Duplicate.String(), phrase.Of("facet that stood twice"), phrase.Of("facets that stood twice"), "t", render.NoRuleColor},
	{scene.Crossing, phrase.Of("pair of facets that cross"), phrase.Of("pairs of facets that cross"), "x", render.OverlapColor},
}

// faultCounts returns how many faults of each of faultKinds a part has;
// crossings count as none until they are known. The edges of a sheet are none.
func faultCounts(p *scene.Part, known Sound) [6]int {
	h, openEdges := &p.Health, p.Health.OpenEdges
	if p.Sheet {
		openEdges = 0
	}
	return [6]int{openEdges, h.NonManifoldEdges, h.Flipped, h.Degenerate, h.Duplicate, known[p.Mesh].SelfCrossings}
}

// soundFacts says what is wrong with the mesh of a part, and in one line if
// nothing is.
func soundFacts(p *scene.Part, known Sound) []string {
	var out []string
	for k, n := range faultCounts(p, known) {
		switch {
		case n == 1:
			out = append(out, "1 "+faultKinds[k].one)
		case n > 1:
			out = append(out, fmt.Sprint(n, " ", faultKinds[k].many))
		}
	}
	_, looked := known[p.Mesh]
	switch {
	case len(out) == 0 && looked:
		out = append(out, phrase.Of("mesh is sound"))
	case !looked:
		out = append(out, phrase.Of("looking for facets that cross"))
	}
	return out
}

// faulty reports whether anything is known to be wrong with the mesh of a part.
func faulty(p *scene.Part, known Sound) bool { return faultCounts(p, known) != [6]int{} }

// known returns what is known of the meshes, also while more is looked for.
func (a *Answers) known() Sound {
	if a.Sound.Value == nil {
		return nil
	}
	return *a.Sound.Value
}

// marksShown is how many places of one kind are marked: more hide each other.
const marksShown = 60

// showFaults marks the places where the selected part's mesh is not sound.
func (p *Painter) showFaults(out *Picture, s *State, a *Attention) {
	if len(a.Selected) == 0 {
		return
	}
	i, ok := s.Scene.Index(a.Selected[0])
	if !ok {
		return
	}
	part := &s.Scene.Parts[i]
	for k := range out.Items {
		out.Items[k].Hidden = out.Items[k].Hidden || k != i
		out.Items[k].Selected = false
	}
	out.Items[i].Ghost = true // what lies behind is seen too
	known := s.Answers.known()
	var notes []string
	for k, n := range faultCounts(part, known) {
		if n == 0 {
			continue
		}
		kind := faultKinds[k]
		shown := markFaults(out, part, known[part.Mesh].Places, kind)
		note := fmt.Sprintf("%s: %s, %d", kind.letter, kind.many, n)
		if shown < n {
			note += phrase.F(" (%d marked)", shown)
		}
		notes = append(notes, note)
	}
	out.Note = part.Name + ": " + strings.Join(notes, "; ")
	if len(notes) == 0 {
		out.Note = part.Name + phrase.Of(": mesh is sound")
	}
}

// markFaults marks the places of one kind and returns how many.
func markFaults(out *Picture, part *scene.Part, places []scene.Fault, kind faultKind) (shown int) {
	for _, f := range places {
		if f.Kind != kind.kind || shown == marksShown {
			continue
		}
		shown++
		out.Overlay.Markers = append(out.Overlay.Markers, render.Marker{At: part.Pose.Point(f.At), Text: kind.letter, Color: kind.color})
		if f.Edge[0] != f.Edge[1] {
			out.Overlay.Paths = append(out.Overlay.Paths, render.Path{
				Points: []geom.Vec{part.Pose.Point(f.Edge[0]), part.Pose.Point(f.Edge[1])}, Color: kind.color, WidthPx: 3,
			})
		}
	}
	return shown
}
