package clearance

import (
	"context"
	"math"

	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/sweep"
)

// Guests tries parts in a scene that they do not belong to, under the rules of
// its layout. It may be used from several goroutines.
type Guests struct {
	c     *check
	rules []Rule
}

// NewGuests prepares the parts of the scene.
func NewGuests(ctx context.Context, s *scene.Scene, workers int) (*Guests, error) {
	c, err := newCheck(ctx, s, Options{Workers: workers})
	if err != nil {
		return nil, err
	}
	return &Guests{c: c, rules: Rules(s.Doc)}, nil
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
	b := g.c.cold[i]
	if state == layout.StateHot || state == layout.StateAll {
		b = g.c.hot[i]
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
	gapMM, err := guestGapMM(ctx, a, b, ma, mb, enoughMM+takenMM)
	return gapMM - takenMM, err
}

// guestGapMM returns the certified least clearance of two bodies over their
// motions, −Inf on overlap.
func guestGapMM(ctx context.Context, a, b dist.Body, ma, mb sweep.Motion, enoughMM float64) (float64, error) {
	boxA, boxB := boxOf(a), boxOf(b)
	if farMM := boxA.GapMM(boxB) - ma.ReachMM(boxA) - mb.ReachMM(boxB); farMM >= enoughMM {
		return enoughMM, nil
	}
	// At rest first: cheap, and it knows a body that lies wholly inside.
	r, err := dist.Between(ctx, a, b, dist.Options{EnoughMM: enoughMM})
	switch {
	case err != nil:
		return 0, err
	case r.Overlap:
		return math.Inf(-1), nil
	case ma.Still() && mb.Still():
		return r.GapMM, nil
	}
	m := &mover{a: a, b: b, ma: ma, mb: mb, boxA: boxA, boxB: boxB}
	lowMM, err := m.lowMM(ctx, enoughMM)
	if err == nil && lowMM <= 0 {
		return math.Inf(-1), nil
	}
	return lowMM, err
}

// BandMM returns how far above a least clearance a gap still counts as close.
func BandMM(leastMM float64) float64 { return closeBandMM(leastMM) }
