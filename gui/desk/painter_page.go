package desk

import (
	"context"
	"math"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/clearance"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/geom/sweep"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// Picture is what the scene shows of a state.
type Picture struct {
	Items    []render.Item
	Parts    []string // name of the part of each item, "" for a component on trial
	Overlay  render.Overlay
	Field    *render.FieldScale
	Ground   *render.Ground
	Cuts     []render.Cut // those asked for, and what takes away what hides a narrowest place
	Handles  []Handle     // of the reader's cuts
	Measures []MeasureRow // of the layout, as they are in it
	Note     string       // what is to be known to read it right, "" if nothing
}

// Painter makes pictures and remembers what is dear to compute. Use it from one
// goroutine at a time.
type Painter struct {
	edges    perMesh[[][2]int32]             // of the pictures shown last
	heat     map[*balance.Result]*heatFields // of the results shown last
	why      whyMap
	measured []measured // of the picture before

	offsetsOf [2]*bvh.Tree // now and before, of the offsets shown last
	offsets   []float32
}

// NewPainter returns a painter that remembers nothing yet.
func NewPainter() *Painter { return &Painter{} }

// edgeAngleRad is the bend from which an edge is drawn: 30°, common practice,
// no source.
const edgeAngleRad = 30 * math.Pi / 180

// shells are the roles that stand around everything else: they are drawn
// see-through unless asked for, and left out of close-ups. Read-only.
var shells = []string{"body", "deck", "firewall", "road"}

// keepOut is the role of solids that stand for a region to be kept free.
const keepOut = "sightline"

// Picture returns what a state looks like to an attention.
func (p *Painter) Picture(s *State, a *Attention) Picture {
	var out Picture
	if s.Scene == nil {
		if draft := s.Coming.drawn(); draft != nil {
			out = draftPicture(draft, a)
		}
		return out
	}
	finding := findingOf(s, a.Finding)
	tints := roleTints(s.Scene.Parts)
	p.edges.turn()
	p.forgetHeat(s)
	p.learnEdges(s.Scene)
	for i := range s.Scene.Parts {
		part := &s.Scene.Parts[i]
		item := partItem(part, tints, a)
		item.Edges = p.edgesOf(part.Mesh)
		out.Items = append(out.Items, item)
		out.Parts = append(out.Parts, part.Name)
	}
	if v := s.Doc.Vehicle; v != nil {
		out.Ground = &render.Ground{ZMM: v.GroundZMM}
	}
	switch {
	case a.Faults && finding == nil:
		p.showFaults(&out, s, a)
	case finding != nil:
		p.showFinding(&out, s, finding)
	case a.Page == Sees:
		p.showSight(&out, s)
	case a.Page == Heats:
		p.showHeat(&out, s, a)
	case a.Page == Mounts:
		p.showSpots(&out, s, a)
	case a.Page == Changed:
		p.showChanges(&out, s, a)
	case a.Page == Lowers:
		p.showStart(&out, s, a)
	}
	addCuts(&out, s, a)
	addGaps(&out, s, a)
	p.addMeasures(&out, s, a)
	addPicked(&out, a)
	return out
}

// partItem returns a part as it is drawn when nothing in particular is shown,
// without edges.
func partItem(part *scene.Part, tints map[string]int, a *Attention) render.Item {
	return render.Item{
		Mesh: part.Mesh, Pose: part.Pose, Closed: part.Closed,
		Color: render.Swatch(tints[part.Role]), Hidden: a.Hidden[part.Name] || part.Role == keepOut && a.Page != Sees,
		Selected: slices.Contains(a.Selected, part.Name),
		Ghost:    ghost(part, a),
	}
}

// startColor is that of the drop group where it started: a quiet grey.
var startColor = render.RGB{R: 120, G: 124, B: 130} // Read-only.

// showStart draws the drop group see-through where the layout has it, while it
// is previewed elsewhere.
func (p *Painter) showStart(out *Picture, s *State, a *Attention) {
	at := Stand{s.DropMM, s.ShiftMM}
	if at == (Stand{}) || s.Doc.Drop == nil {
		return
	}
	for i := range s.Scene.Parts {
		part := &s.Scene.Parts[i]
		if part.Group != s.Doc.Drop.Group || a.Hidden[part.Name] {
			continue
		}
		pose := part.Pose
		pose.T = pose.T.Sub(at.By())
		out.Items = append(out.Items, render.Item{
			Mesh: part.Mesh, Edges: p.edgesOf(part.Mesh), Pose: pose, Closed: part.Closed, Color: startColor, Ghost: true,
		})
		out.Parts = append(out.Parts, "")
	}
	out.Note = phrase.Of("see-through: where it stood at the start")
}

// ghost reports whether a part is drawn see-through when nothing in particular
// is shown.
func ghost(part *scene.Part, a *Attention) bool {
	if a.Clear[part.Name] {
		return true
	}
	if slices.Contains(a.Selected, part.Name) {
		return false
	}
	if part.Role == keepOut {
		return true
	}
	return a.Ghost && len(a.Selected) > 0 || !a.Shells && slices.Contains(shells, part.Role)
}

// learnEdges finds the edges of all parts that are new, side by side: the first
// picture of a large layout waits for nothing else as long.
func (p *Painter) learnEdges(s *scene.Scene) {
	var fresh []*mesh.Mesh
	for i := range s.Parts {
		m := s.Parts[i].Mesh
		if _, known := p.edges.of(m); !known {
			p.edges.put(m, nil)
			fresh = append(fresh, m)
		}
	}
	found := make([][][2]int32, len(fresh))
	// Neither the work nor the context can fail.
	_ = geom.Each(context.Background(), 0, len(fresh), nil, func(i int) error {
		found[i] = featureEdges(fresh[i])
		return nil
	})
	for i, m := range fresh {
		p.edges.put(m, found[i])
	}
}

func (p *Painter) edgesOf(m *mesh.Mesh) [][2]int32 { return p.edges.made(m, featureEdges) }

// roleTints numbers the roles in the order in which they appear.
func roleTints(parts []scene.Part) map[string]int {
	tints := map[string]int{}
	for i := range parts {
		if _, known := tints[parts[i].Role]; !known {
			tints[parts[i].Role] = len(tints)
		}
	}
	return tints
}

// findingOf returns the finding of an id, nil if it is not among the answers.
func findingOf(s *State, id string) *clearance.Pair {
	r := s.Answers.Fit.Value
	if r == nil || id == "" {
		return nil
	}
	i := slices.IndexFunc(r.Pairs, func(p clearance.Pair) bool { return p.ID == id })
	if i < 0 {
		return nil
	}
	return &r.Pairs[i]
}

// showFinding draws the two parts of a finding in the position in which they
// come nearest, with the distance, and all others see-through.
func (p *Painter) showFinding(out *Picture, s *State, f *clearance.Pair) {
	for i := range out.Items {
		part := &s.Scene.Parts[i]
		speaks := part.Name == f.A || part.Name == f.B
		out.Items[i].Selected, out.Items[i].Ghost = false, !speaks
		if !speaks {
			out.Items[i].Hidden = out.Items[i].Hidden || slices.Contains(shells, part.Role) || part.Role == keepOut
			continue
		}
		out.Items[i].Hidden = false
		out.Items[i].Color = render.CloseColor
		if part.Name == f.B {
			out.Items[i].Color = render.AccentColor
		}
		if shift, moved := f.WorstPose[part.Group]; moved {
			out.Items[i].Pose = shifted(s.Scene, part, shift)
		}
	}
	text := units.FormatMM(f.ClearanceMM)
	if f.Overlap {
		text = "overlap " + units.FormatMM(-f.ClearanceMM)
	}
	out.Overlay.Witnesses = []render.Witness{{From: f.PointA, To: f.PointB, Text: text, Color: verdictColor(f.Verdict)}}
	out.Overlay.Labels = []render.Label{{At: f.PointA, Text: f.A}, {At: f.PointB, Text: f.B}}
	_, cut := render.Closeup(f.PointA, f.PointB, 0)
	for i := range out.Items {
		if part := &s.Scene.Parts[i]; (part.Name == f.A || part.Name == f.B) && hides(part, out.Items[i].Pose, cut) {
			out.Cuts = []render.Cut{cut}
		}
	}
	var notes []string
	if len(out.Cuts) > 0 {
		notes = append(notes, phrase.Of("cut through the narrowest place"))
	}
	if len(f.WorstPose) > 0 {
		notes = append(notes, phrase.Of("shown in the position where they come nearest"))
	}
	out.Note = strings.Join(notes, ", ")
	if !s.Answers.Fit.Fresh {
		out.Note = phrase.Of("distance of an earlier state: computing")
	}
}

// hides reports whether a part in its pose stands between a narrowest place and
// an eye that looks square at its cut.
func hides(part *scene.Part, pose geom.Pose, cut render.Cut) bool {
	back := pose.Inverse()
	const clearMM = 0.01 // off the surfaces that the place touches
	from := cut.Point.Add(cut.Normal.Mul(clearMM))
	_, hit := part.Tree.FirstHit(back.Point(from), back.Dir(cut.Normal), math.Inf(1))
	return hit
}

// FindingView returns where a camera should look to show a finding: at the line
// between two points, with a picture of a height at least.
func FindingView(s *State, id string) (from, to geom.Vec, heightMM float64, ok bool) {
	if s == nil {
		return from, to, 0, false
	}
	f := findingOf(s, id)
	if f == nil {
		return from, to, 0, false
	}
	// Common practice, no source: a gap takes a tenth of the picture, and no
	// picture is lower than a hand, so that the parts can be told.
	const share, leastMM = 10, 220
	return f.PointA, f.PointB, math.Max(leastMM, share*f.PointA.Sub(f.PointB).Len()), true
}

// shifted returns the pose of a part with its group in another position.
func shifted(s *scene.Scene, part *scene.Part, at clearance.GroupShift) geom.Pose {
	m := sweep.MotionOf(s.Group(part.Group), nil)
	set := sweep.Setting{at.XMM, at.YMM, at.ZMM, units.Rad(at.RollDeg), units.Rad(at.PitchDeg), units.Rad(at.YawDeg)}
	return m.Pose(set).After(part.Pose)
}

func verdictColor(verdict string) render.RGB {
	switch verdict {
	case clearance.OK:
		return render.OkColor
	case clearance.Close:
		return render.CloseColor
	case clearance.Short, balance.Over:
		return render.ShortColor
	case clearance.Overlap:
		return render.OverlapColor
	}
	return render.NoRuleColor
}
