package spot

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// turned is what the turns of one place share.
type turned struct {
	flatShare float64 // Bare number: the largest share of the foot yet found to lie on the host
	axis      *int    // the part on the axis of the component, −1 for none; nil: not asked yet
	tool      *int    // the part in the way of a tool on that axis, −1 for none; nil: not asked yet
}

// stand tests a place and, where nothing speaks against it, the turns on it, as
// far as all stands still and without a lead. It returns the turns, the best
// first, or the one trial that went furthest.
func (st *study) stand(ctx context.Context, p place, turns int) ([]trial, error) {
	t := trial{place: p, pose: poseAt(p, 0, turns), nearest: -1}
	if st.locate(&t); t.reason != "" {
		return []trial{t}, nil
	}
	each := make([]trial, turns)
	var of turned
	for turn := range each {
		each[turn] = t
		each[turn].pose = poseAt(p, turn, turns)
		if err := st.fit(ctx, &each[turn], &of); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(each, func(a, b trial) int {
		switch {
		case a.beats(&b):
			return -1
		case b.beats(&a):
			return 1
		}
		return 0
	})
	if each[0].reason != "" {
		each = slices.Clone(each[:1]) // the others are not needed any more
	}
	return each, nil
}

// choose returns the turn with most room at rest that also passes when the
// groups move and with its lead, or the one that went furthest.
func (st *study) choose(ctx context.Context, each []trial) (trial, error) {
	var leadless *trial
	for i := range each {
		one := &each[i]
		if one.reason != "" {
			break
		}
		if err := st.clears(ctx, one, movingStates); err != nil {
			return trial{}, err
		}
		if one.reason != "" || st.noBetterLead(one, leadless) {
			continue
		}
		if st.leads(one); one.reason == "" {
			return *one, nil
		}
		leadless = one
	}
	return each[0], nil
}

// ownDetourMM is how much shorter the way around the component itself becomes by
// another turn, seldom more.
const ownDetourMM = 5

// noBetterLead reports whether the lead of a turn misses too, because that of
// another turn of the same place misses by more than lies between their
// connectors. other may be nil.
func (st *study) noBetterLead(t, other *trial) bool {
	if other == nil {
		return false
	}
	apartMM := t.pose.Point(st.wire.from).Sub(other.pose.Point(st.wire.from)).Len()
	return other.reason == NoLead && other.missed > apartMM+ownDetourMM
}

// beats reports whether a turn went further, or has more margin.
func (t *trial) beats(o *trial) bool {
	if t.reason != o.reason {
		return o.reason != "" && (t.reason == "" || slices.Index(reasons, t.reason) > slices.Index(reasons, o.reason))
	}
	if t.reason != "" {
		return t.missed < o.missed
	}
	return t.marginMM > o.marginMM
}

// onAxis refuses a place where a surface lies on the component's own axis,
// inside the component: an overlap at every turn, found by one ray.
func (st *study) onAxis(t *trial, of *turned) {
	if st.axisMM[1] <= st.axisMM[0] {
		return
	}
	if of.axis == nil {
		found := -1
		from, way := t.pose.Point(geom.Vec{0, 0, st.axisMM[0]}), t.normal.Mul(st.axisMM[1]-st.axisMM[0])
		line := geom.EmptyBox().Grow(from).Grow(from.Add(way))
		for i := range st.scene.Parts {
			p := &st.scene.Parts[i]
			if i == st.replaced || line.GapMM(p.Box) > 0 {
				continue
			}
			back := p.Pose.Inverse()
			if p.Tree.AnyHit(back.Point(from), back.Dir(t.normal), way.Len()) {
				found = i
				break
			}
		}
		of.axis = &found
	}
	if by := *of.axis; by >= 0 {
		t.refuse(Overlap, 0, say.F("runs into %s", st.scene.Parts[by].Name))
	}
}

// axisOf returns from where to where the axis of a component, the line square to
// its mounting face through its origin, surely lies inside it even where it is
// lifted off its host; nothing where that is not known.
func axisOf(c *scene.Component) (spanMM [2]float64) {
	if !c.Closed {
		return spanMM
	}
	up, topMM := geom.Vec{0, 0, 1}, c.Mesh.Box().Max[2]
	in, ok := c.Tree.FirstHit(geom.Vec{0, 0, -1}, up, topMM+2)
	if !ok || in.Back {
		return spanMM
	}
	fromMM := in.DistMM - 1 + touchMM
	out, ok := c.Tree.FirstHit(geom.Vec{0, 0, fromMM}, up, topMM+2)
	if !ok || !out.Back {
		return spanMM
	}
	return [2]float64{math.Max(fromMM, 0) + 2*liftMM, fromMM + out.DistMM - touchMM}
}
