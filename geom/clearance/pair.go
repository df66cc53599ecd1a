package clearance

import (
	"context"
	"fmt"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/sweep"
)

// check is one run over a scene.
type check struct {
	scene  *scene.Scene
	cold   []dist.Body
	hot    []dist.Body // hot[i] equals cold[i] for parts without growth
	grows  []bool
	motion []sweep.Motion // by part; parts of no group stay put
	keys   []sideKey      // by part
	prev   *Result
	brief  bool
	known  map[cacheKey]cached // of the previous run, where its jobs were others
	chords map[*mesh.Mesh]*chords
}

// cached is the gap of one pair in one state before rules and tolerances.
type cached struct {
	state  string
	brief  bool // the row lacks what a brief run leaves out
	gap    gap
	input  [2]sideKey
	careMM float64 // how exactly a moving gap was wanted
}

// gap is a raw answer for one pair in one state.
type gap struct {
	clearanceMM, errorMM float64
	hotMM                float64 // with growth alone, as posed; hot and all together
	overlap              bool
	brief                bool // neither volume nor way out were asked for
	volumeMM3            *float64
	pointA, pointB       geom.Vec
	witnesses            [2]witness // where on the meshes these lie
	moveOut              *geom.Vec
	worst                map[string]GroupShift
	notes                []say.Text
}

type cacheKey struct {
	a, b  int
	state string
}

// sideKey is all that a pair's gap depends on, for one of its parts.
type sideKey struct {
	tree   *bvh.Tree
	pose   geom.Pose
	growth sweep.Growth
	group  string
	motion string // printed motion, since named positions are a slice
}

func newCheck(ctx context.Context, s *scene.Scene, o Options) (*check, error) {
	n := len(s.Parts)
	c := &check{
		scene: s, prev: o.Prev, brief: o.Brief,
		cold: make([]dist.Body, n), hot: make([]dist.Body, n),
		grows: make([]bool, n), motion: make([]sweep.Motion, n), keys: make([]sideKey, n),
	}
	c.chords = c.chordsOf()
	err := geom.Each(ctx, o.Workers, n, nil, func(i int) error {
		p := &s.Parts[i]
		c.cold[i] = s.Body(i)
		c.hot[i] = c.cold[i]
		if g, ok := growthOf(p); ok {
			c.grows[i] = true
			c.hot[i].Pose = g.Pose(p.Pose)
			c.hot[i].Tree = c.hotTree(i, g.Scale)
		}
		if p.Group != "" {
			c.motion[i] = motionOf(s, p.Group)
		}
		c.keys[i] = c.key(i)
		return nil
	})
	return c, err
}

// hotTree returns the tree of a part grown by a scale, that of the previous run
// where it is the same.
func (c *check) hotTree(i int, scale float64) *bvh.Tree {
	p := &c.scene.Parts[i]
	if c.prev != nil && c.prev.was != nil && i < len(c.prev.was.keys) {
		if was := &c.prev.was.keys[i]; was.tree == p.Tree && was.growth.Scale == scale {
			return c.prev.was.hot[i].Tree
		}
	}
	return bvh.Build(p.Mesh.Scaled(scale))
}

func growthOf(p *scene.Part) (sweep.Growth, bool) {
	if p.Layout == nil || p.Layout.Growth == nil {
		return sweep.Growth{}, false
	}
	g := p.Layout.Growth
	scale := 1 + g.PerK*(g.ToDegC-g.FromDegC)
	return sweep.Growth{Anchor: g.AnchorMM, Scale: scale}, scale != 1
}

// pair answers all rows of one job.
func (c *check) pair(ctx context.Context, j job) ([]Pair, []cached, error) {
	var rows []Pair
	var raw []cached
	var static gap
	for k, state := range states {
		if k > 0 && j.rules[k] == nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		g, err := c.gap(ctx, j, k, static)
		if err != nil {
			return nil, nil, say.Errorf("%s ~ %s, %s: %w", c.scene.Parts[j.a].Name, c.scene.Parts[j.b].Name, state, err)
		}
		if k == 0 {
			static = g
		}
		rows = append(rows, c.row(j, state, &g, &static, j.rules[k]))
		raw = append(raw, cached{state, c.brief, g, [2]sideKey{c.keys[j.a], c.keys[j.b]}, j.careMM(k)})
	}
	return rows, raw, nil
}

// gap returns the raw answer, from the previous run where nothing changed.
func (c *check) gap(ctx context.Context, j job, k int, static gap) (gap, error) {
	state := states[k]
	old, ok := c.known[cacheKey{j.a, j.b, state}]
	if ok && !old.gap.brief && old.input == [2]sideKey{c.keys[j.a], c.keys[j.b]} && old.careMM == j.careMM(k) {
		return old.gap, nil
	}
	grows := c.grows[j.a] || c.grows[j.b]
	moves := c.scene.Parts[j.a].Group != c.scene.Parts[j.b].Group &&
		!(c.motion[j.a].Still() && c.motion[j.b].Still())
	hot := static // as long as nothing grows
	if grows && (state == layout.StateHot || state == layout.StateAll) {
		var err error
		if hot, err = c.between(ctx, c.hot[j.a], c.hot[j.b]); err != nil {
			return gap{}, err
		}
	}
	hot.hotMM = hot.clearanceMM
	switch {
	case state == layout.StateStatic:
		return c.between(ctx, c.cold[j.a], c.cold[j.b])
	case state == layout.StateMoving && moves:
		return c.mover(j, c.cold, k, &static).search(ctx)
	case state == layout.StateAll && moves:
		bodies := c.cold
		if grows {
			bodies = c.hot
		}
		g, err := c.mover(j, bodies, k, &hot).search(ctx)
		g.hotMM = hot.hotMM
		return g, err
	}
	return hot, nil // nothing moves against the other
}

func (c *check) key(i int) sideKey {
	p := &c.scene.Parts[i]
	growth, _ := growthOf(p)
	return sideKey{p.Tree, p.Pose, growth, p.Group, fmt.Sprint(c.motion[i])}
}

// noVolume is said where two solids overlap and what they share has no volume.
const noVolume = "no shared volume: in one of the two meshes the surface crosses itself or bodies overlap, so that some of its inside counts twice; inspect says where"

// between wraps the exact distance of two bodies.
func (c *check) between(ctx context.Context, a, b dist.Body) (gap, error) {
	return between(ctx, a, b, c.overlaps())
}

// overlaps says what is wanted of pairs that overlap.
func (c *check) overlaps() dist.Options { return dist.Options{Overlap: true, DepthOnly: c.brief} }

func between(ctx context.Context, a, b dist.Body, o dist.Options) (gap, error) {
	r, err := dist.Between(ctx, a, b, o)
	if err != nil {
		return gap{}, err
	}
	g := gap{
		clearanceMM: r.GapMM, errorMM: r.ErrorMM, overlap: r.Overlap,
		volumeMM3: r.VolumeMM3, pointA: r.PointA, pointB: r.PointB, moveOut: r.MoveOutMM,
		witnesses: [2]witness{witnessOf(a, r.TriA, r.PointA), witnessOf(b, r.TriB, r.PointB)},
	}
	if r.Overlap {
		g.clearanceMM, g.errorMM = -r.DepthMM, max(r.ErrorMM, r.DepthErrorMM)
		if g.brief = o.DepthOnly; a.Closed && b.Closed && r.VolumeMM3 == nil && !g.brief {
			g.notes = append(g.notes, say.Of(noVolume))
		}
	}
	return g, nil
}

// row puts a raw gap under its rule.
func (c *check) row(j job, state string, g, static *gap, rule *Rule) Pair {
	a, b := &c.scene.Parts[j.a], &c.scene.Parts[j.b]
	p := Pair{
		ID: a.Name + " ~ " + b.Name + " @ " + state, A: a.Name, B: b.Name, RoleA: a.Role, RoleB: b.Role,
		State: state, ClearanceMM: g.clearanceMM, ErrorMM: g.errorMM, Overlap: g.overlap,
		OverlapVolumeMM3: g.volumeMM3, PointA: g.pointA, PointB: g.pointB, MoveOutMM: g.moveOut,
		StaticMM: static.clearanceMM, WorstPose: g.worst, IndexA: j.a, IndexB: j.b,
	}
	p.Notes = append(slices.Clone(g.notes), openNotes(a, b)...)
	p.InsideUnknown = !g.overlap && (mayHide(a, b) || mayHide(b, a))
	if state == layout.StateHot || state == layout.StateAll {
		p.GrowthMM = static.clearanceMM - g.hotMM
	}
	if state == layout.StateAll {
		stack := sweep.StackOf(toleranceMM(a), toleranceMM(b))
		p.ToleranceMM = stack.WorstMM
		rss := p.ClearanceMM - stack.RSSMM
		p.ClearanceRSSMM = &rss
		p.ClearanceMM -= stack.WorstMM
	}
	p.Verdict, p.MarginMM = judge(p.ClearanceMM, p.ErrorMM, p.Overlap, rule)
	if rule != nil {
		least := rule.LeastMM
		p.LeastMM, p.Rule, p.Source = &least, rule.Text(), rule.Source
		if !c.brief {
			p.ChordErrorMM = c.chordMM(j, g)
		}
	}
	return p
}

func toleranceMM(p *scene.Part) float64 {
	if p.Layout == nil {
		return 0
	}
	return p.Layout.ToleranceMM
}

// openNotes warns where a mesh has no inside, or none that is known.
func openNotes(a, b *scene.Part) []say.Text {
	var notes []say.Text
	for _, x := range [2][2]*scene.Part{{a, b}, {b, a}} {
		switch part, other := x[0], x[1]; {
		case mayHide(part, other):
			notes = append(notes, say.F("%s lacks facets: whether %s lies inside it is not known", part.Name, other.Name))
		case !part.Closed:
			notes = append(notes, say.F("%s %s", part.Name, part.OpenText()))
		}
	}
	return notes
}

// mayHide reports whether part lacks facets and other stands within its box as
// posed: it may lie inside, and no gap between the surfaces tells.
func mayHide(part, other *scene.Part) bool {
	return !part.Closed && !part.Sheet && part.Box.GapMM(other.Box) == 0
}
