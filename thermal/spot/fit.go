package spot

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// trial is one place with what came of it.
type trial struct {
	place
	pose           geom.Pose
	guest          *scene.Part // once it stands flat
	supportedShare float64
	straightMM     float64
	way            []geom.Vec // of the lead, nil without one
	reachMM        *float64   // along the way
	tight          bool       // the way is pulled taut
	marginMM       float64    // over the least clearance, at most farMM
	nearest        int        // part that gives it, −1 for none near
	state          string
	leastMM        float64
	cases          []CaseHeat // nil without a heat study
	worst          int        // case with the least margin
	highMarginK    float64    // least limit less high temperature; +Inf without a limit
	score          float64
	scoredBy       string

	rays   int           // per patch, of the temperatures; 0 where they are estimated
	errorK float64       // how far the high temperature may be off, seldom more
	view   *balance.View // what it sees, of those that are too hot
	even   bool          // of the first, even round
	told   bool          // among the best at some time

	reason string  // "" where it passed
	missed float64 // Bare numbers: by how much, in the unit of the reason
	detail say.Text
}

const (
	// farMM: clearance margins are not looked for beyond this.
	farMM = 30
	// liftMM: the component is lifted off the host by this when it is asked
	// whether it runs into the host's other features, so that the intended
	// contact does not count.
	liftMM = flatMM
	// touchMM: a gap that only has to be there.
	touchMM = 1e-3
)

// refuse notes why. Bare numbers: missed is in the unit of the reason.
func (t *trial) refuse(reason string, missed float64, detail say.Text) {
	t.reason, t.missed, t.detail = reason, missed, detail
}

// try tests all places: where, then how, then how hot.
func (st *study) try(ctx context.Context, places []place, turns, ticks int) ([]trial, error) {
	stands, err := st.standAll(ctx, places, turns, ticks/3)
	if err != nil {
		return nil, err
	}
	return st.goOn(ctx, stands, ticks-ticks/3)
}

// standAll is stand for all places.
func (st *study) standAll(ctx context.Context, places []place, turns, ticks int) ([][]trial, error) {
	stands := make([][]trial, len(places))
	err := geom.Each(ctx, st.options.Workers, len(places), st.progress.next(ticks), func(i int) error {
		var err error
		stands[i], err = st.stand(ctx, places[i], turns)
		return err
	})
	return stands, err
}

// goOn tests places further that are tried as far as stand goes.
func (st *study) goOn(ctx context.Context, stands [][]trial, ticks int) ([]trial, error) {
	tried := make([]trial, len(stands))
	err := geom.Each(ctx, st.options.Workers, len(stands), st.progress.next(ticks/2), func(i int) error {
		var err error
		tried[i], err = st.choose(ctx, stands[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	if err := st.warm(ctx, tried, st.progress.next(ticks-ticks/2)); err != nil {
		return nil, err
	}
	for i := range tried {
		tried[i].rate(st)
	}
	return tried, nil
}

// locate tests what the turn does not change.
func (st *study) locate(t *trial) {
	above := t.point.Add(t.normal.Mul(liftMM))
	if i := st.inside(above); i >= 0 {
		t.refuse(Buried, 0, say.F("in %s", st.scene.Parts[i].Name))
		return
	}
	if st.layout.ServeMM == nil {
		return
	}
	t.straightMM = st.layout.ServeMM.Sub(t.point).Len()
	// From the connector it may be nearer, by no more than that stands off.
	leastMM := t.straightMM - st.connectorMM
	if most := st.layout.ReachMM; most != nil && leastMM > *most {
		t.refuse(TooFar, leastMM-*most, say.F("%.0f mm in a straight line, %.0f allowed", t.straightMM, *most))
		return
	}
	away := st.layout.ServeMM.Sub(above)
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if i == st.replaced || p.Role != wall {
			continue
		}
		back := p.Pose.Inverse()
		if p.Tree.AnyHit(back.Point(above), back.Dir(away), away.Len()) {
			t.refuse(Walled, t.straightMM, say.F("%s stands between", p.Name))
			return
		}
	}
}

// wall is the role of what parts cabin and engine: a lead goes neither through
// it nor around its edge.
const wall = "firewall"

// skew is a direction that meets few edges of drawn shapes squarely. Read-only.
var skew = geom.Vec{0.2709, 0.5837, 0.7654}

// inside returns a solid that holds a point, −1 for none. It only sorts out the
// hopeless early; the test for overlaps decides.
func (st *study) inside(point geom.Vec) int {
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if i == st.replaced || !p.Closed || drawn(p.Role) || !holds(p.Box, point) {
			continue
		}
		back := p.Pose.Inverse()
		hit, ok := p.Tree.Cast(bvh.Ray{Origin: back.Point(point), Dir: skew, FarMM: math.Inf(1)})
		if ok && hit.Back {
			return i
		}
	}
	return -1
}

func holds(b geom.Box, p geom.Vec) bool {
	for k := range p {
		if p[k] < b.Min[k] || p[k] > b.Max[k] {
			return false
		}
	}
	return true
}

// fit tests one pose.
func (st *study) fit(ctx context.Context, t *trial, of *turned) error {
	host := &st.scene.Parts[t.host]
	// Of turns that hang over, only the one that does so least is told.
	t.supportedShare = st.foot.supportedShare(host, t.pose, math.Min(of.flatShare, leastSupport))
	of.flatShare = math.Max(of.flatShare, t.supportedShare)
	if t.supportedShare < leastSupport {
		t.refuse(NotFlat, leastSupport-t.supportedShare, say.F("%.1f %% of the foot lies on it, %.0f needed", 100*t.supportedShare, 100*leastSupport))
		return nil
	}
	if st.grounds(t); t.reason != "" {
		return nil
	}
	if st.splashes(t); t.reason != "" {
		return nil
	}
	if st.onAxis(t, of); t.reason != "" {
		return nil
	}
	guest := st.guest(t.pose, host.Group)
	t.guest = &guest
	if err := st.overlaps(ctx, t); err != nil || t.reason != "" {
		return err
	}
	t.marginMM = farMM
	if err := st.keeps(ctx, t); err != nil || t.reason != "" {
		return err
	}
	if st.standsOver(t); t.reason != "" {
		return nil
	}
	if err := st.clears(ctx, t, stillStates); err != nil || t.reason != "" {
		return err
	}
	return st.reached(ctx, t, of)
}

// overlaps tests whether the component shares space with any part.
func (st *study) overlaps(ctx context.Context, t *trial) error {
	guest := t.guest
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if i == st.replaced || guest.Box.GapMM(p.Box) > liftMM {
			continue
		}
		body := dist.Body{Tree: guest.Tree, Pose: guest.Pose, Closed: guest.Closed}
		if i == t.host {
			body.Pose.T = body.Pose.T.Add(t.normal.Mul(liftMM))
		}
		r, err := dist.Between(ctx, body, st.scene.Body(i), dist.Options{EnoughMM: touchMM})
		if err != nil {
			return err
		}
		if r.Overlap {
			t.refuse(Overlap, 0, say.F("runs into %s", p.Name))
			return nil
		}
	}
	return nil
}

// The states of rules: those that cost little, and those that search a motion.
// Read-only.
var (
	stillStates  = []string{layout.StateStatic, layout.StateHot}
	movingStates = []string{layout.StateMoving, layout.StateAll}
)

// clears tests the rules of some states against all parts but the host, which
// the component touches.
func (st *study) clears(ctx context.Context, t *trial, states []string) error {
	for i, rules := range st.rules[t.guest.Group] {
		if i == st.replaced || i == t.host {
			continue
		}
		for _, r := range rules {
			if !slices.Contains(states, r.State) {
				continue
			}
			gapMM, err := st.guests.GapMM(ctx, t.guest, i, r.State, r.LeastMM+t.marginMM)
			if err != nil {
				return err
			}
			if marginMM := gapMM - r.LeastMM; marginMM < t.marginMM {
				t.marginMM, t.nearest, t.state, t.leastMM = marginMM, i, r.State, r.LeastMM
			}
			if t.marginMM < 0 {
				st.refuseClose(t)
				return nil
			}
		}
	}
	return nil
}

// refuseClose says which part is too near.
func (st *study) refuseClose(t *trial) {
	name := st.scene.Parts[t.nearest].Name
	if math.IsInf(t.marginMM, -1) {
		t.refuse(TooClose, t.leastMM, say.F("meets %s %s", name, inState(t.state)))
		return
	}
	t.refuse(TooClose, -t.marginMM, say.F("%.1f mm to %s %s, %g needed", t.leastMM+t.marginMM, name, inState(t.state), t.leastMM))
}

// inState says a state in a sentence.
func inState(state string) say.Text {
	switch state {
	case layout.StateHot:
		return say.Of("when hot")
	case layout.StateMoving:
		return say.Of("as the groups move")
	case layout.StateAll:
		return say.Of("hot and moving, tolerances taken off")
	}
	return say.Of("at rest")
}
