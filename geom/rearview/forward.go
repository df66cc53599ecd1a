package rearview

import (
	"context"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// Forward is the view ahead: how much of a target line the eyes see directly.
type Forward struct {
	Seen       Seen              `json:"seen"` // shares of the line's length
	LeastShare float64           `json:"least_share"`
	Met        bool              `json:"met"`
	LostBy     []Loss            `json:"lost_by"`
	Highest    map[string]Height `json:"highest_allowed_mm"` // no_loss only
	Sentence   say.Text          `json:"sentence"`
}

// ahead is the study of the view ahead, in a frame that is the road frame turned
// about Z so that ahead is +X. In place of a picture of the road there is one in
// which the target line is upright: a is the distance beside it, b runs from 0
// to 1 along it as it looks.
type ahead struct {
	study
	from, to geom.Vec
	lines    [nEyes][2]dot     // the target in the lens
	weights  [nEyes][2]float64 // Bare numbers: of the lens at both ends
}

// turnedRound is half a turn about Z. Read-only.
var turnedRound = geom.Pose{R: mgl64.Mat3{-1, 0, 0, 0, -1, 0, 0, 0, 1}}

// forward answers for the view ahead, nil where the layout does not ask.
func (g *given) forward(ctx context.Context, sc *scene.Scene, o Options) (*Forward, error) {
	if g.view.Forward == nil {
		return nil, nil
	}
	h, err := g.newAhead(sc)
	if err != nil {
		return nil, err
	}
	shadows := make([]shadow, len(sc.Parts))
	err = geom.Each(ctx, o.Workers, len(sc.Parts), nil, func(i int) error {
		if !seeThrough[sc.Parts[i].Role] && !o.hidden[i] {
			shadows[i] = h.shadowOf(i, 0)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	h.shadows = slices.DeleteFunc(shadows, func(s shadow) bool { return s.empty() })
	out := h.measureLine()
	if g.view.Forward.LeastShare != nil {
		out.LeastShare = *g.view.Forward.LeastShare
	}
	out.Met = out.Seen.EitherShare >= out.LeastShare-nothingShare
	if !o.Quick {
		err = h.heightsAhead(ctx, o, out)
	}
	out.tell()
	return out, err
}

func (g *given) newAhead(sc *scene.Scene) (*ahead, error) {
	f := g.view.Forward
	if len(f.TargetMM) != 2 {
		return nil, fault("/forward/target_mm", say.Of("the target is no line"), say.Of("give its two points"))
	}
	toAhead := turnedRound.After(g.toRoad)
	h := &ahead{from: toAhead.Point(f.TargetMM[0]), to: toAhead.Point(f.TargetMM[1])}
	s := &sight{toRoad: toAhead, reflect: geom.Identity()}
	for _, p := range f.GlassMM {
		s.glass = append(s.glass, toAhead.Point(p))
	}
	if err := checkPane("/forward/glass_mm", f.GlassMM); err != nil {
		return nil, err
	}
	for k, p := range [nEyes]geom.Vec{g.eyes[0], g.eyes[1], g.mid()} {
		s.eyes[k].eye = toAhead.Point(p)
		s.eyes[k].image = s.eyes[k].eye
	}
	s.midXMM = s.eyes[middle].eye[0]
	h.study = study{scene: sc, sight: s}
	for k := range s.eyes {
		if err := h.look(k); err != nil {
			return nil, err
		}
	}
	return h, nil
}

// look sets up one eye: only what stands between it and the target counts.
func (h *ahead) look(k int) error {
	e := &h.sight.eyes[k]
	if e.eye[2] < leastMM {
		return fault("", say.Of("the eyes lie below the road"), say.Of("check ground_z_mm of the vehicle and the eyes"))
	}
	if min(h.from[0], h.to[0]) < e.eye[0]+leastMM {
		return fault("/forward/target_mm", say.Of("the target lies beside or behind the eyes (X points rearward)"), say.Of("give two points in front of the driver"))
	}
	run, toEye := h.to.Sub(h.from), e.eye.Sub(h.from)
	n := toEye.Mul(run.Dot(run)).Sub(run.Mul(run.Dot(toEye)))
	if n.Len() < 1 {
		return fault("/forward/target_mm", say.Of("the target is a point or runs through the eyes"), say.Of("give two points that stand apart, side by side as the driver looks"))
	}
	n = n.Normalize()
	l := newLens(e.eye, h.sight.midXMM)
	onward := form{l.w.n, l.w.c - leastMM}
	e.road = caster{l, []form{onward, {n, -n.Dot(h.from)}}}
	e.near = caster{l, []form{{c: -1}}} // there is no such leg
	h.lines[k] = [2]dot{l.see(h.from), l.see(h.to)}
	h.weights[k] = [2]float64{l.w.at(h.from), l.w.at(h.to)}
	h.windows[k] = []pane{paneOf(h.lines[k][:])}
	const wide = 1e6 // all that a lens can show
	e.mirror = h.upright(k, []dot{{-wide, -wide}, {wide, -wide}, {wide, wide}, {-wide, wide}})
	if len(h.sight.glass) > 0 {
		e.glass = h.upright(k, (&caster{l, []form{onward}}).throw(h.sight.glass))
	}
	return nil
}

// upright returns points of the lens in the picture in which the target is
// upright.
func (h *ahead) upright(k int, points []dot) []dot {
	p, q := h.lines[k][0], h.lines[k][1]
	size := (q.a-p.a)*(q.a-p.a) + (q.b-p.b)*(q.b-p.b)
	out := make([]dot, len(points))
	for i, x := range points {
		out[i] = dot{-turn(p, q, x) / size, ((x.a-p.a)*(q.a-p.a) + (x.b-p.b)*(q.b-p.b)) / size}
	}
	return out
}

// shadowOf returns what part i hides when it is raised.
func (h *ahead) shadowOf(i int, raisedMM float64) shadow {
	p := &h.scene.Parts[i]
	out := shadow{part: i}
	if len(p.Mesh.Tris) == 0 {
		return out
	}
	pose := geom.Shift(geom.Vec{0, 0, raisedMM}).After(h.sight.toRoad).After(p.Pose)
	var t thrower
	for k := range h.sight.eyes {
		for _, e := range t.outline(p.Mesh, p.Tree.Box(), pose, &h.sight.eyes[k].road, h.windows[k]) {
			ends := h.upright(k, []dot{e.from, e.to})
			out.edges[k] = append(out.edges[k], edge{ends[0], ends[1], e.wind})
		}
	}
	return out
}

// spans returns what eye k sees of the target, in shares of its length.
func (h *ahead) spans(k int, shadows []shadow) []span {
	w := h.weights[k]
	along := func(t float64) float64 { return t * w[0] / ((1-t)*w[1] + t*w[0]) }
	out := within(h.seen(k, ruler{upright: true, inward: 1}, shadows), 0, 1)
	for i := range out {
		out[i] = span{along(out[i].from), along(out[i].to)}
	}
	return out
}

// eitherShare returns what either eye sees past some shadows.
func (h *ahead) eitherShare(shadows []shadow) float64 {
	return length(union(h.spans(left, shadows), h.spans(right, shadows)))
}

// measureLine answers but for the heights.
func (h *ahead) measureLine() *Forward {
	l, r := h.spans(left, h.shadows), h.spans(right, h.shadows)
	out := &Forward{LeastShare: 1, LostBy: []Loss{}, Highest: map[string]Height{}}
	out.Seen = Seen{length(l), length(r), length(union(l, r)), length(both(l, r)), length(h.spans(middle, h.shadows))}
	clear := h.eitherShare(nil)
	for j := range h.shadows {
		alone := tidy(clear - h.eitherShare(h.shadows[j:j+1]))
		rest := slices.Concat(h.shadows[:j], h.shadows[j+1:])
		gained := tidy(h.eitherShare(rest) - out.Seen.EitherShare)
		if alone > 0 || gained > 0 {
			out.LostBy = append(out.LostBy, Loss{h.scene.Parts[h.shadows[j].part].Name, alone, gained})
		}
	}
	slices.SortStableFunc(out.LostBy, byShare)
	return out
}

// heightsAhead finds how high each part may stand before it hides anything of
// the target by itself.
func (h *ahead) heightsAhead(ctx context.Context, o Options, out *Forward) error {
	clear := h.eitherShare(nil)
	rows := make([]*float64, len(h.scene.Parts))
	err := geom.Each(ctx, o.Workers, len(rows), nil, func(i int) error {
		if seeThrough[h.scene.Parts[i].Role] || o.hidden[i] {
			return nil
		}
		hides := func(raisedMM float64) bool {
			s := h.shadowOf(i, raisedMM)
			return !s.empty() && clear-h.eitherShare([]shadow{s}) > nothingShare
		}
		rows[i] = beginsMM(hides)
		return nil
	})
	for i, mm := range rows {
		if mm != nil {
			p := &h.scene.Parts[i]
			out.Highest[p.Name] = Height{NowMM: p.Box.Max[2], NoLossMM: new(p.Box.Max[2] + *mm), NoLossMarginMM: mm}
		}
	}
	return err
}

// mostDownMM is how far down a part is looked for a place where it hides
// nothing. Common practice, no source: more than a car is high.
const mostDownMM = 2500.0

// beginsMM returns how far a part may be raised before it hides, negative where
// it hides already; nil where it does not within reach.
func beginsMM(hides func(raisedMM float64) bool) *float64 {
	lowMM, highMM := 0.0, 0.0
	if hides(0) {
		for downMM := 1.0; ; downMM = min(2*downMM, downMM+64) {
			if downMM > mostDownMM {
				return nil
			}
			if !hides(-downMM) {
				lowMM = -downMM
				break
			}
			highMM = -downMM
		}
	} else {
		for highMM = stepMM; !hides(highMM); highMM += stepMM {
			if lowMM = highMM; highMM > watchMM {
				return nil
			}
		}
	}
	for highMM-lowMM > heightMM {
		if midMM := lowMM + (highMM-lowMM)/2; hides(midMM) {
			highMM = midMM
		} else {
			lowMM = midMM
		}
	}
	return &lowMM
}

// tell puts the answer into words.
func (f *Forward) tell() {
	f.Sentence = say.F("Ahead: %s of the target line is seen by either eye, %s is asked for", percent(f.Seen.EitherShare), percent(f.LeastShare))
	if len(f.LostBy) > 0 {
		l := f.LostBy[0]
		f.Sentence = say.F("%s; %s takes %s", f.Sentence, l.Part, percent(l.Share))
		if h, ok := f.Highest[l.Part]; ok {
			f.Sentence = say.F("%s and hides nothing %s lower", f.Sentence, units.FormatMM(-*h.NoLossMarginMM))
		}
	}
	f.Sentence = say.F("%s.", f.Sentence)
}
