package rearview

import (
	"cmp"
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// Options steer Run. The zero value answers everything on all processors.
type Options struct {
	Workers int
	// Quick leaves out what a drag does not need: heights, drivers, the
	// mirror's helper and the variants.
	Quick bool

	hidden map[int]bool // parts that are left out
}

// Run answers whether the driver sees what the layout's rule asks for, and what
// the other rules say. The result does not depend on the number of workers.
// Errors name the key of rear_view and how to mend it.
func Run(ctx context.Context, sc *scene.Scene, o Options, progress geom.Progress) (*Result, error) {
	given, err := readGiven(sc.Doc)
	if err != nil {
		return nil, err
	}
	s, err := given.sight()
	if err != nil {
		return nil, err
	}
	fields, err := fieldsOf(given.view, s)
	if err != nil {
		return nil, err
	}
	st, err := newStudy(ctx, sc, s, fields, o, progress)
	if err != nil {
		return nil, say.Errorf("rear view: %w", err)
	}
	r := &Result{Variants: []Variant{}, Notes: given.notes(), Caution: Caution, Through: st.through(), Quick: o.Quick, study: st}
	for k := range r.Eyes {
		back := s.toRoad.Inverse()
		r.Eyes[k] = Eye{back.Point(s.eyes[k].eye), back.Point(s.eyes[k].image)}
	}
	for i := range fields {
		a := st.answer(&fields[i])
		a.ImageEyesMM = [2]geom.Vec{r.Eyes[left].ImageMM, r.Eyes[right].ImageMM}
		if !o.Quick {
			if err := st.heights(ctx, o, &fields[i], &a); err != nil {
				return nil, say.Errorf("rear view: %w", err)
			}
		}
		a.judge(&fields[i])
		r.Rules = append(r.Rules, a)
	}
	r.Answer = r.Rules[0]
	r.Mirror = st.mirrorSays()
	if r.Forward, err = given.forward(ctx, sc, o); err != nil {
		return nil, say.Errorf("rear view: %w", err)
	}
	if !o.Quick {
		err = r.explore(ctx, st, given, o)
	}
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, say.Errorf("rear view: %w", err)
	}
	return r, nil
}

// given is what the layout says of the view, vehicle frame.
type given struct {
	doc    *layout.Document
	view   *layout.RearView
	eyes   [2]geom.Vec
	mirror Mirror
	toRoad geom.Pose
}

func readGiven(doc *layout.Document) (*given, error) {
	if doc.RearView == nil {
		return nil, errNoRearView
	}
	g := &given{doc: doc, view: doc.RearView}
	var err error
	if g.eyes, err = eyesOf(g.view); err != nil {
		return nil, err
	}
	if g.mirror, err = mirrorOf(g.view, g.mid()); err != nil {
		return nil, err
	}
	if err = checkPane("/glass_mm", g.view.GlassMM); err != nil {
		return nil, err
	}
	g.toRoad, err = roadPose(doc.Vehicle, g.view.Attitude)
	return g, err
}

func (g *given) mid() geom.Vec { return g.eyes[0].Add(g.eyes[1]).Mul(0.5) }

func (g *given) sight() (*sight, error) {
	return newSight(g.eyes, g.mirror, g.view.GlassMM, g.toRoad)
}

// notes says what was assumed.
func (g *given) notes() []say.Text {
	out := []say.Text{}
	if g.view.Requirement == "" {
		out = append(out, say.F("no requirement given: judged by %s", RuleUN))
	}
	if g.view.Mirror.Normal == nil && g.view.Mirror.Aim == nil {
		out = append(out, say.Of("the mirror has neither normal nor aim: aimed straight back"))
	}
	if g.view.Mirror.CentreMM[0] > g.mid()[0] {
		out = append(out, say.Of("the mirror stands behind the eyes (X points rearward): check its centre_mm"))
	}
	if len(g.view.GlassMM) == 0 {
		out = append(out, say.Of("no glass given: only the mirror and the parts bound the view"))
	}
	if g.view.Attitude == "" {
		out = append(out, say.Of("the car stands as drawn: name an attitude of the vehicle for the load state of the rule"))
	}
	if g.view.RearEndXMM == nil {
		out = append(out, say.F("%s is left out: rear_end_x_mm is not given", RuleUS))
	}
	return out
}

// through names the parts that are taken not to block.
func (st *study) through() []string {
	out := []string{}
	for i := range st.scene.Parts {
		if p := &st.scene.Parts[i]; seeThrough[p.Role] {
			out = append(out, p.Name)
		}
	}
	return out
}

// answer measures one field.
func (st *study) answer(f *field) Answer {
	t := st.measure(f, st.shadows)
	share := func(area float64) float64 { return min(max(area/t.field, 0), 1) } // Bare numbers: of the picture
	a := Answer{
		Seen:              Seen{share(t.seen[left]), share(t.seen[right]), share(t.either), share(t.both), share(t.seen[middle])},
		LostToMirrorShare: tidy(1 - share(t.unpaned)), LostToGlassShare: tidy(share(t.unpaned - t.clear)),
		LostBy: []Loss{}, HighestAllowedMM: map[string]Height{}, hiddenMiddleShare: tidy(share(t.hidden)),
	}
	for j := range st.shadows {
		if l := t.lost[j]; tidy(share(l.alone)) > 0 || tidy(share(l.gained)) > 0 {
			a.LostBy = append(a.LostBy, Loss{st.scene.Parts[st.shadows[j].part].Name, tidy(share(l.alone)), tidy(share(l.gained))})
		}
	}
	slices.SortStableFunc(a.LostBy, byShare)
	st.lines3(f, &a)
	return a
}

// byShare puts the greatest loss first.
func byShare(x, y Loss) int { return cmp.Compare(y.Share, x.Share) }

// nothingShare is what rounding may leave of a share: a share below it is none.
const nothingShare = 1e-9

func tidy(share float64) float64 {
	if share < nothingShare {
		return 0
	}
	return share
}

// lines3 reads the centre line, the near side and the horizon.
func (st *study) lines3(f *field, a *Answer) {
	s := st.sight
	centre := ruler{upright: true, inward: 1}
	line := func(k int) []span { return within(st.seen(k, centre, st.shadows), 0, math.Inf(1)) }
	eyeXMM := s.eyes[middle].eye[0]
	distance := func(b float64) *float64 { // Bare numbers: place in the picture
		if b <= 0 {
			return nil
		}
		return new(s.midXMM + pictureMM/b - eyeXMM)
	}
	either := union(line(left), line(right))
	// Road under the car is no road behind it.
	behind := within(either, 0, pictureMM/(st.rearXMM()-s.midXMM))
	a.NearestRoadMM, a.UnbrokenRoadMM = distance(nearest(behind)), distance(unbroken(behind))
	a.middleUnbrokenMM = distance(unbroken(line(middle)))
	side := ruler{at: f.near, inward: -1}
	l, r := st.seen(left, side, st.shadows), st.seen(right, side, st.shadows)
	farMM := f.nearXMM - s.midXMM
	a.WidthMM = Widths{length(l) * farMM, length(r) * farMM, length(union(l, r)) * farMM, length(both(l, r)) * farMM}
	level := st.seen(middle, ruler{inward: 1}, st.shadows)
	if n := len(level); n > 0 {
		a.AngleDeg = units.Deg(math.Atan(level[n-1].to) - math.Atan(level[0].from))
	}
	for _, s := range level {
		a.ClearAngleDeg += units.Deg(math.Atan(s.to) - math.Atan(s.from))
	}
}

// rearXMM returns where the car ends: the rearmost point of the parts, but not
// before the eyes; road frame.
func (st *study) rearXMM() float64 {
	xMM := st.sight.eyes[middle].eye[0]
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if !seeThrough[p.Role] {
			xMM = max(xMM, st.sight.toRoad.Point(p.Box.Max)[0])
		}
	}
	return max(xMM, st.sight.midXMM+leastMM)
}

// nearest returns the greatest b that is seen, 0 for none. Bare numbers: place
// in the picture.
func nearest(spans []span) float64 {
	if len(spans) == 0 {
		return 0
	}
	return spans[len(spans)-1].to
}

// unbroken returns up to which b all is seen from the horizon on, 0 for
// nothing. Bare numbers: place in the picture.
func unbroken(spans []span) float64 {
	if len(spans) == 0 || spans[0].from > 0 {
		return 0
	}
	return spans[0].to
}
