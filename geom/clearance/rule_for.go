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
	other := &g.c.scene.Parts[i]
	a := dist.Body{Tree: guest.Tree, Pose: guest.Pose, Closed: guest.Closed}
	b, boxB := g.c.cold[i], g.cold[i]
	if state == layout.StateHot || state == layout.StateAll {
		b, boxB = g.c.hot[i], g.hot[i]
	}
	var takenMM float64
	if state == layout.StateAll {
		takenMM = sweep.StackOf(toleranceMM(guest), toleranceMM(other)).WorstMM
	}
	var ma, mb sweep.Motion
	if guest.Group != other.Group && (state == layout.StateMoving || state == layout.StateAll) {
		mb = g.c.motion[i]
		if guest.Group != "" {
			ma = motionOf(g.c.scene, guest.Group)
		}
	}
	m := &mover{a: a, b: b, ma: ma, mb: mb, boxA: guest.Box, boxB: boxB}
	gapMM, err := m.guestGapMM(ctx, enoughMM+takenMM)
	return gapMM - takenMM, err
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
