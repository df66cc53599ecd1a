package clearance

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/sweep"
)

// Guests tries parts in a scene that they do not belong to, under the rules of
// its layout. It may be used from several goroutines.
type Guests struct {
	c         *check
	rules     []Rule
	cold, hot []geom.Box // posed boxes of the parts
}

// NewGuests prepares the parts of the scene.
func NewGuests(ctx context.Context, s *scene.Scene, workers int) (*Guests, error) {
	c, err := newCheck(ctx, s, Options{Workers: workers})
	if err != nil {
		return nil, err
	}
	g := &Guests{c: c, rules: Rules(s.Doc)}
	for i := range c.cold {
		g.cold, g.hot = append(g.cold, boxOf(c.cold[i])), append(g.hot, boxOf(c.hot[i]))
	}
	return g, nil
}

// RulesFor returns the rules that decide for a guest and part i of the scene,
// at most one per state. Of the guest, name, role and group count.
func (g *Guests) RulesFor(guest *scene.Part, i int) []Rule {
	var out []Rule
	for _, state := range states {
		if r := winner(g.rules, guest, &g.c.scene.Parts[i], state); r != nil {
			out = append(out, *r)
		}
	}
	return out
}

// RulesBetween returns the rules that decide for two guests, at most one per
// state.
func (g *Guests) RulesBetween(a, b *scene.Part) []Rule {
	var out []Rule
	for _, state := range states {
		if r := winner(g.rules, a, b, state); r != nil {
			out = append(out, *r)
		}
	}
	return out
}

// GapMM returns the clearance of a guest, which moves with its group, and part
// i of the scene in a state, tolerances taken off where the state asks for it;
// −Inf on overlap. It may stop early and answer any value of at least enoughMM
// once the gap is known to reach that. In the moving states it is the certified
// low end.
func (g *Guests) GapMM(ctx context.Context, guest *scene.Part, i int, state string, enoughMM float64) (float64, error) {
	m, takenMM := g.meet(guest, i, state)
	gapMM, err := m.guestGapMM(ctx, enoughMM+takenMM)
	return gapMM - takenMM, err
}

// Shift is a group that stands somewhere else.
type Shift struct {
	Group string
	By    geom.Vec // mm, vehicle frame
}

// of returns the shift of a part of a group.
func (s Shift) of(group string) geom.Vec {
	if group != "" && group == s.Group {
		return s.By
	}
	return geom.Vec{}
}

// MarginMM returns by how much a rule between a guest and part i of the scene
// holds while a group is shifted; the guest moves along where it belongs to that
// group. Otherwise it is as GapMM, and as exact near the rule's clearance as
// Probe.GapMM is.
func (g *Guests) MarginMM(ctx context.Context, guest *scene.Part, i int, r Rule, shift Shift, enoughMM float64) (float64, error) {
	m, takenMM := g.meet(guest, i, r.State)
	m.shift(shift.of(guest.Group), shift.of(g.c.scene.Parts[i].Group))
	m.careMM = r.LeastMM + takenMM
	gapMM, err := m.guestGapMM(ctx, enoughMM+r.LeastMM+takenMM+roundMM)
	return gapMM - takenMM - r.LeastMM, err
}

// meet makes a guest and part i ready in a state; takenMM goes off their gap.
func (g *Guests) meet(guest *scene.Part, i int, state string) (m *mover, takenMM float64) {
	other := &g.c.scene.Parts[i]
	m = &mover{
		a:    dist.Body{Tree: guest.Tree, Pose: guest.Pose, Closed: guest.Closed},
		b:    g.c.cold[i],
		boxA: guest.Box, boxB: g.cold[i],
	}
	if state == layout.StateHot || state == layout.StateAll {
		m.b, m.boxB = g.c.hot[i], g.hot[i]
	}
	if state == layout.StateAll {
		takenMM = sweep.StackOf(toleranceMM(guest), toleranceMM(other)).WorstMM
	}
	if guest.Group != other.Group && (state == layout.StateMoving || state == layout.StateAll) {
		m.mb = g.c.motion[i]
		if guest.Group != "" {
			m.ma = motionOf(g.c.scene, guest.Group)
		}
	}
	return m, takenMM
}

// shift moves both bodies with their boxes and pivots.
func (m *mover) shift(byA, byB geom.Vec) {
	m.a.Pose.T, m.ma.Pivot, m.boxA = m.a.Pose.T.Add(byA), m.ma.Pivot.Add(byA), m.boxA.Shift(byA)
	m.b.Pose.T, m.mb.Pivot, m.boxB = m.b.Pose.T.Add(byB), m.mb.Pivot.Add(byB), m.boxB.Shift(byB)
}

// guestGapMM returns the certified least clearance of two bodies over their
// motions, −Inf on overlap.
func (m *mover) guestGapMM(ctx context.Context, enoughMM float64) (float64, error) {
	still := m.ma.Still() && m.mb.Still()
	farMM := m.boxA.GapMM(m.boxB)
	if farMM >= enoughMM && (still || farMM-m.ma.ReachMM(m.boxA)-m.mb.ReachMM(m.boxB) >= enoughMM) {
		return enoughMM, nil
	}
	// At rest first: cheap, and it knows a body that lies wholly inside.
	r, err := dist.Between(ctx, m.a, m.b, dist.Options{EnoughMM: enoughMM})
	switch {
	case err != nil:
		return 0, err
	case r.Overlap:
		return math.Inf(-1), nil
	case still:
		return r.GapMM, nil
	}
	lowMM, err := m.lowMM(ctx, enoughMM)
	if err == nil && lowMM <= 0 {
		return math.Inf(-1), nil
	}
	return lowMM, err
}

// BandMM returns how far above a least clearance a gap still counts as close.
func BandMM(leastMM float64) float64 { return closeBandMM(leastMM) }
