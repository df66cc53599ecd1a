package spot

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/sweep"
	"aftbay/thermal/balance"
)

// study is the search for one component.
type study struct {
	options     Options
	scene       *scene.Scene
	heat        *balance.Result // nil: temperatures play no part
	component   *scene.Component
	layout      *layout.Spot
	number      int // of the entry
	replaced    int // index of the part left out, −1 for none
	hosts       []int
	foot        foot
	tool        *scene.Shape   // nil without one; in the component's frame
	core        *scene.Shape   // of the tool; nil for a tiny one
	toolOnAxis  bool           // the tool stands on the component's axis: no turn moves it
	axisMM      [2]float64     // see axisOf
	swings      []*scene.Shape // of the tool's handle, each from another angle
	wire        *wire          // nil where nothing is served
	connectorMM float64        // from the mounting face's origin to the connector
	keepFrom    []kept
	notAbove    []int
	level       func(p geom.Vec) float64 // Bare numbers: height over the ground, mm; nil without a splash line
	roads       []roadAbove
	guests      *clearance.Guests
	rules       map[string][][]clearance.Rule // by the host's group, by part
	slackMM     map[string]float64            // by the host's group
	mountWK     *float64
	assumed     []say.Text
	progress    stages
}

// newStudy reads one entry of the layout.
func newStudy(s *scene.Scene, number int, heat *balance.Result, guests *clearance.Guests, o Options) (*study, error) {
	c := &s.Spots[number]
	st := &study{options: o, scene: s, component: c, layout: c.Layout, number: number, replaced: -1, guests: guests}
	if heat != nil && len(heat.Cases) > 0 {
		st.heat = heat
	} else {
		st.assumed = append(st.assumed, say.Of("no heat study: temperatures play no part"))
	}
	if name := c.Layout.Replaces; name != "" {
		i, ok := s.Index(name)
		if !ok {
			return nil, say.Errorf("replaces %q: no part has that name", name)
		}
		st.replaced = i
	}
	if err := st.readHosts(); err != nil {
		return nil, err
	}
	if err := checkFoot(c.Mesh); err != nil {
		return nil, err
	}
	st.foot, st.axisMM = footOf(c.Mesh), axisOf(c)
	st.roads = roadsOf(s.Doc.Vehicle)
	if t := c.Layout.Tool; t != nil {
		st.readTool(t)
	}
	st.readMount()
	st.rules = map[string][][]clearance.Rule{}
	for _, h := range st.hosts {
		st.readRules(s.Parts[h].Group)
	}
	st.readSlack()
	if err := st.readKeeps(); err != nil {
		return nil, err
	}
	st.readWire()
	return st, nil
}

// readHosts resolves the selectors.
func (st *study) readHosts() error {
	chosen := map[int]bool{}
	for _, selector := range st.layout.Hosts {
		parts, err := st.scene.Select(selector)
		if err != nil {
			return say.Errorf("hosts: %w", err)
		}
		for _, i := range parts {
			chosen[i] = true
		}
	}
	for i := range st.scene.Parts {
		if chosen[i] && i != st.replaced && !drawn(st.scene.Parts[i].Role) {
			st.hosts = append(st.hosts, i)
		}
	}
	if len(st.hosts) == 0 {
		return say.New("hosts: no part is left to mount it on; name at least one part or role that is there")
	}
	return nil
}

// drawn reports whether a role is a drawing, not matter.
func drawn(role string) bool { return role == "sightline" || role == "road" }

// readMount takes the conductance of the mount: the component's, else that of
// the part it stands in for. Either then leads to the host.
func (st *study) readMount() {
	if t := st.layout.Thermal; t != nil && t.Mount != nil {
		st.mountWK = &t.Mount.WK
		return
	}
	if st.replaced < 0 {
		return
	}
	if t := st.scene.Parts[st.replaced].Layout.Thermal; t != nil && t.Mount != nil {
		st.mountWK = &t.Mount.WK
		st.assumed = append(st.assumed, say.F("mount of %.3g W/K, as %q has it", *st.mountWK, st.layout.Replaces))
	}
}

// readSlack finds how far the served point can move against every host's group.
// It moves with the part that lies nearest to it.
func (st *study) readSlack() {
	st.slackMM = map[string]float64{}
	serve := st.layout.ServeMM
	if serve == nil {
		return
	}
	served, withinMM := "", math.Inf(1)
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if i == st.replaced || drawn(p.Role) {
			continue
		}
		if near, ok := p.Tree.Nearest(p.Pose.Inverse().Point(*serve), withinMM); ok {
			served, withinMM = p.Group, near.DistMM
		}
	}
	reachMM := func(group string) float64 {
		if group == "" {
			return 0
		}
		m := sweep.MotionOf(st.scene.Group(group), st.scene.Positions(group))
		return m.ReachMM(geom.Box{Min: *serve, Max: *serve})
	}
	for _, h := range st.hosts {
		if group := st.scene.Parts[h].Group; group != served {
			st.slackMM[group] = reachMM(group) + reachMM(served)
		}
	}
}

// readRules finds the rules for a component that is part of a group. Rules that
// name the replaced part hold for what replaces it.
func (st *study) readRules(group string) {
	if st.rules[group] != nil {
		return
	}
	guest := st.guest(geom.Identity(), group)
	by := make([][]clearance.Rule, len(st.scene.Parts))
	for i := range by {
		by[i] = st.guests.RulesFor(&guest, i)
	}
	st.rules[group] = by
}

// guest returns the component as a part in a place.
func (st *study) guest(pose geom.Pose, group string) scene.Part {
	name := st.layout.Name
	if st.replaced >= 0 {
		name = st.layout.Replaces
	}
	box := geom.EmptyBox()
	for _, v := range st.component.Mesh.Verts {
		box = box.Grow(pose.Point(v))
	}
	return scene.Part{Index: -1, Name: name, Role: st.layout.Role, Group: group, Shape: st.component.Shape, Pose: pose, Box: box}
}

// The share of the progress of each round, of stageTicks.
const (
	quickTicks = 100
	firstTicks = 350
	refineTick = 400
	finalTicks = stageTicks - quickTicks - firstTicks - refineTick
)

// run answers the study. show, where not nil, is given answers on the way.
func (st *study) run(ctx context.Context, show func(*Study)) (*Study, error) {
	cloud := st.spread()
	if show != nil {
		tried, err := st.try(ctx, cloud.first[:min(len(cloud.first)/quickShare, quickPlaces)], firstTurns, quickTicks)
		if err != nil {
			return nil, err
		}
		a, err := st.told(ctx, cloud, tried)
		if err != nil {
			return nil, err
		}
		show(a)
	}
	var stands [][]trial
	err := geom.Each(ctx, st.options.Workers, 2, nil, func(task int) error {
		if task == 0 { // the ways of leads are not asked for until all places are tried so far
			return st.layField(ctx)
		}
		var err error
		stands, err = st.standAll(ctx, cloud.first, firstTurns, firstTicks/3)
		return err
	})
	if err != nil {
		return nil, err
	}
	tried, err := st.goOn(ctx, stands, firstTicks-firstTicks/3)
	if err != nil {
		return nil, err
	}
	for i := range tried {
		tried[i].even = true
	}
	around := cloud.around(st.best(tried, st.options.Most))
	again, err := st.try(ctx, around, fineTurns, refineTick)
	if err != nil {
		return nil, err
	}
	tried = append(tried, again...)
	if err := st.polish(ctx, tried); err != nil {
		return nil, err
	}
	a, err := st.told(ctx, cloud, tried)
	if err != nil {
		return nil, err
	}
	if a.Changes, err = st.changes(ctx, tried); err != nil {
		return nil, err
	}
	if err := st.lowerAll(ctx, a.Spots); err != nil {
		return nil, err
	}
	a.Sentence = st.sentence(a) // now that it is known what would help
	return a, nil
}

// A first answer is given after this part of the even round, of no more than so
// many places, with straight leads; they are tried again later.
const (
	quickShare  = 8
	quickPlaces = 240
)

// told turns what was tried into an answer.
func (st *study) told(ctx context.Context, cloud *cloud, tried []trial) (*Study, error) {
	even, passed := 0, 0
	for i := range tried {
		if tried[i].even {
			even++
			if tried[i].reason == "" {
				passed++
			}
		}
	}
	a := st.answer(tried)
	a.FinestMM = cloud.fineMM
	a.FreeAreaMM2 = cloud.areaMM2 * float64(passed) / float64(max(even, 1))
	chosen := st.best(tried, st.options.Most)
	for i, t := range chosen {
		s, err := st.spotOf(ctx, t, i+1)
		if err != nil {
			return nil, err
		}
		a.Spots = append(a.Spots, s)
	}
	countAlike(a.Spots, chosen, tried)
	a.Sentence = st.sentence(a)
	return a, nil
}

// answer counts what was tried.
func (st *study) answer(tried []trial) *Study {
	a := &Study{
		Name: st.layout.Name, Role: st.layout.Role, Replaces: st.layout.Replaces, ReachMM: st.layout.ReachMM,
		Candidates: len(tried), Spots: []Spot{}, Refused: []Refused{}, Changes: []Change{}, Present: st.present(), Assumed: st.assumed,
	}
	if l := st.layout.LimitDegC; l != nil {
		a.LimitDegC, a.PeakDegC = l.ContinuousDegC, l.PeakDegC
	}
	counts := make([]Refused, len(reasons))
	nearest := make([]*trial, len(reasons))
	for i := range tried {
		t := &tried[i]
		a.Tried = append(a.Tried, Tried{Host: t.host, PointMM: t.point, Normal: t.normal, Reason: t.reason, Score: t.score})
		if t.reason == "" {
			a.Acceptable++
			continue
		}
		k := slices.Index(reasons, t.reason)
		counts[k].Count++
		if nearest[k] == nil || t.missed < nearest[k].missed {
			nearest[k] = t
		}
	}
	for k := range counts {
		if counts[k].Count > 0 {
			a.Refused = append(a.Refused, Refused{
				Component: st.layout.Name, Reason: reasons[k], Count: counts[k].Count, Example: st.example(nearest[k]),
			})
		}
	}
	return a
}
