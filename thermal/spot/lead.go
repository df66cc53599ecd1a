package spot

import (
	"context"
	"errors"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/lead"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

const (
	// usualLeadMM is the diameter of a lead that nothing is said of.
	usualLeadMM = 8 // common practice, no source
	// hotDegC: parts that get this hot are kept away from. A lead of cable class
	// D stands 150 °C for its life.
	//
	// Source: ISO 6722-1 / ISO 19642, temperature classes, from memory.
	hotDegC = 150
	// Beyond the reach leads are still measured, so that it can be said by how
	// much they are too long.
	beyondShare, beyondMM = 0.25, 100
	// boundlessMM is as far as leads are looked for where no reach is given.
	boundlessMM = 2000
)

// wire is what is known of the lead.
type wire struct {
	bendMM, radiusMM float64
	from             geom.Vec // connector, component frame
	field            *lead.Field
	buried           bool // there is no way out of what the served point lies in
}

// readWire finds the connector and what the lead is like.
func (st *study) readWire() {
	if st.layout.ServeMM == nil {
		return
	}
	w := &wire{radiusMM: usualLeadMM / 2.0, from: topOf(&st.component.Shape, st.foot.middle)}
	given := st.layout.Lead
	if given != nil && given.DiameterMM != nil {
		w.radiusMM = *given.DiameterMM / 2
	} else {
		st.assumed = append(st.assumed, say.F("lead of %d mm diameter", usualLeadMM))
	}
	if given != nil && given.BendRadiusMM != nil {
		w.bendMM = *given.BendRadiusMM
	}
	if given != nil && given.FromMM != nil {
		w.from = *given.FromMM
	} else {
		st.assumed = append(st.assumed, say.Of("the lead leaves from the middle of the component's top"))
	}
	st.connectorMM = w.from.Len()
	st.wire = w
}

// layField finds all ways to the served point. Until then a lead counts as
// straight.
func (st *study) layField(ctx context.Context) error {
	w, serve := st.wire, st.layout.ServeMM
	if w == nil {
		return nil
	}
	field, err := lead.New(ctx, st.obstacles(w, *serve), *serve, st.farthestMM(), lead.Options{Workers: st.options.Workers, Toward: st.towards()})
	if errors.Is(err, lead.ErrBuried) {
		w.buried = true
		return nil
	}
	if err != nil {
		return err
	}
	w.field = field
	if _, insideMM := field.Exit(); insideMM > lostMM {
		st.assumed = append(st.assumed, say.F("serve_mm lies inside a part: the lead goes %.0f mm straight out of it", insideMM))
	}
	return nil
}

// lostMM: a served point this near to a surface lies on it.
const lostMM = 15

// farthestMM is how far leads are looked for.
func (st *study) farthestMM() float64 {
	if most := st.layout.ReachMM; most != nil {
		return *most + math.Max(beyondMM, beyondShare**most)
	}
	farMM := 0.0
	for _, h := range st.hosts {
		for _, c := range st.scene.Parts[h].Box.Corners() {
			farMM = math.Max(farMM, c.Sub(*st.layout.ServeMM).Len())
		}
	}
	return math.Min(boundlessMM, 1.5*farMM+beyondMM)
}

// towards returns where connectors may be: on the hosts and as far off as the
// component is tall.
func (st *study) towards() []geom.Box {
	var out []geom.Box
	offMM := st.connectorMM
	for _, h := range st.hosts {
		b := st.scene.Parts[h].Box
		grown := geom.Vec{offMM, offMM, offMM}
		out = append(out, geom.Box{Min: b.Min.Sub(grown), Max: b.Max.Add(grown)})
	}
	return out
}

// topOf returns where the mesh is highest over a point.
func topOf(s *scene.Shape, over geom.Vec) geom.Vec {
	topMM := s.Tree.Box().Max[2] + 1
	hit, ok := s.Tree.FirstHit(geom.Vec{over[0], over[1], topMM}, geom.Vec{0, 0, -1}, topMM+1)
	if ok {
		return geom.Vec{over[0], over[1], topMM - hit.DistMM}
	}
	top := s.Mesh.Verts[0]
	for _, v := range s.Mesh.Verts {
		if v[2] > top[2] {
			top = v
		}
	}
	return top
}

// obstacles returns what leads go around and how far from it they stay.
func (st *study) obstacles(w *wire, serve geom.Vec) []lead.Body {
	var out []lead.Body
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if i == st.replaced || drawn(p.Role) {
			continue
		}
		b := lead.Body{Tree: p.Tree, Pose: p.Pose, Box: p.Box, Closed: p.Closed, KeepMM: w.radiusMM}
		if hotMM := st.hotMM(i); hotMM > w.radiusMM {
			// What is served may itself stand nearer: the lead then stays as far.
			b.KeepMM = hotMM + w.radiusMM
			if near, ok := p.Tree.Nearest(p.Pose.Inverse().Point(serve), b.KeepMM); ok {
				b.KeepMM = math.Max(w.radiusMM, near.DistMM-1)
				st.assumed = append(st.assumed, say.F("what it serves lies %.0f mm from %s: the lead keeps that instead of %g mm", near.DistMM, p.Name, hotMM))
			}
		}
		out = append(out, b)
	}
	return out
}

// hotMM returns how far the lead stays from a part because it is hot, 0 if it
// is not.
func (st *study) hotMM(i int) float64 {
	if !st.isHot(i) {
		return 0
	}
	if given := st.layout.Lead; given != nil && given.HotMM != nil {
		return *given.HotMM
	}
	mostMM := 0.0
	for _, rules := range st.rules {
		for _, r := range rules[i] {
			mostMM = math.Max(mostMM, r.LeastMM)
		}
	}
	return mostMM
}

// isHot reports whether a part is an exhaust or gets too hot for a lead that
// lies on it.
func (st *study) isHot(i int) bool {
	if st.scene.Parts[i].Role == "exhaust" {
		return true
	}
	if st.heat == nil {
		return false
	}
	for k := range st.heat.Cases {
		for _, ph := range st.heat.Cases[k].Parts {
			if ph.Part == i && ph.Temperature.NominalDegC > hotDegC {
				return true
			}
		}
	}
	return false
}

// start returns where the lead of a place begins.
func (st *study) start(t *trial) lead.Start {
	var own *bvh.Tree
	if st.component.Closed {
		own = st.component.Tree
	}
	return lead.Start{Point: t.pose.Point(st.wire.from), Own: own, Pose: t.pose, FreeMM: 3 * st.wire.radiusMM}
}

// leads tests the way of the lead and its length with slack.
func (st *study) leads(t *trial) {
	w := st.wire
	if w == nil {
		return
	}
	if w.buried {
		t.refuse(NoLead, boundlessMM, say.Of("serve_mm lies too deep inside a part"))
		return
	}
	most, slackMM := st.layout.ReachMM, st.slackMM[st.scene.Parts[t.host].Group]
	if w.field == nil {
		straightMM := st.layout.ServeMM.Sub(t.pose.Point(w.from)).Len()
		if t.reachMM = &straightMM; most != nil && straightMM+slackMM > *most {
			t.refuse(TooFar, straightMM+slackMM-*most, say.F("%.0f mm in a straight line, %.0f allowed", straightMM, *most))
		}
		return
	}
	enoughMM := math.Inf(1)
	if most != nil {
		enoughMM = *most - slackMM
	}
	way, lengthMM, ok := w.field.Way(st.start(t), enoughMM)
	if ok && w.bendMM > 0 && lengthMM <= enoughMM {
		way, lengthMM, ok = st.tighten(t)
		if t.reason != "" {
			return
		}
	}
	if !ok {
		t.refuse(NoLead, boundlessMM, say.F("no way for it within %.0f mm", st.farthestMM()))
		return
	}
	if way == nil {
		t.refuse(NoLead, lengthMM+slackMM-*most, say.F("about %s, %.0f allowed", leadText(lengthMM, slackMM), *most))
		return
	}
	t.way, t.reachMM = way, &lengthMM
	if most != nil && lengthMM+slackMM > *most {
		t.refuse(NoLead, lengthMM+slackMM-*most, say.F("%s, %.0f allowed", leadText(lengthMM, slackMM), *most))
	}
}

func leadText(lengthMM, slackMM float64) say.Text {
	if slackMM == 0 {
		return say.F("%.0f mm of lead around what stands in between", lengthMM)
	}
	return say.F("%.0f mm of lead around what stands in between and %.0f mm of slack", lengthMM, slackMM)
}

// bendShare: bends as wide as this share of what is asked for count as met, for
// the widest is found by halving.
const bendShare = 0.99

// tighten pulls the lead of a place taut and judges its bends.
func (st *study) tighten(t *trial) (way []geom.Vec, lengthMM float64, ok bool) {
	t.tight = true
	r, ok := st.wire.field.Route(st.start(t), st.wire.bendMM)
	if ok && r.BendMM < bendShare*st.wire.bendMM {
		t.refuse(NoLead, st.wire.bendMM-r.BendMM, say.F("its bends would have a radius of %.0f mm, %g needed", r.BendMM, st.wire.bendMM))
	}
	return r.Points, r.LengthMM, ok
}
