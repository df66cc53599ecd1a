package spot

import (
	"cmp"
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/thermal/balance"
)

// What one unit of score is worth. Common practice, no source.
const (
	scoreK       = 20.0 // of margin of the high temperature
	scoreMM      = 6.0  // of clearance over the least
	scoreReaches = 5.0  // a place at no distance at all has this score for reach
)

// What decides a score.
const (
	byTemperature = "temperature"
	byClearance   = "clearance"
	byReach       = "reach"
)

// rate sets the score of a place that passed.
func (t *trial) rate(st *study) {
	if t.reason != "" {
		return
	}
	t.score = math.Inf(1)
	w := st.layout.Weights
	if w == nil {
		w = &layout.Weights{}
	}
	t.weigh(byClearance, t.marginMM/scoreMM, w.Clearance)
	if most := st.layout.ReachMM; most != nil && t.reachMM != nil && *most > 0 {
		needMM := *t.reachMM + st.slackMM[st.scene.Parts[t.host].Group]
		t.weigh(byReach, scoreReaches*(1 - needMM / *most), w.Lead)
	}
	t.weigh(byTemperature, t.highMarginK/scoreK, w.Temperature)
	if math.IsInf(t.score, 1) { // nothing that counts is known of it
		t.score, t.scoredBy = farMM/scoreMM, byClearance
	}
}

// weigh lets a margin decide where it is the smallest. Bare numbers: margin in
// units of score; weight a ratio.
func (t *trial) weigh(by string, margin float64, weight *float64) {
	if weight != nil {
		switch {
		case *weight == 0:
			return
		case margin < 0:
			margin *= *weight
		default:
			margin /= *weight
		}
	}
	if margin < t.score {
		t.score, t.scoredBy = margin, by
	}
}

// leadMM is the lead's length for ties; 0 without one.
func (t *trial) leadMM() float64 {
	if t.reachMM == nil {
		return 0
	}
	return *t.reachMM
}

// best returns the best places that passed, at most most of them, best first:
// none so near to a better one that the two components would meet, and of one
// host at most a third while others have any.
func (st *study) best(tried []trial, most int) []*trial {
	var passed []*trial
	for i := range tried {
		if tried[i].reason == "" {
			passed = append(passed, &tried[i])
		}
	}
	slices.SortStableFunc(passed, func(a, b *trial) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.leadMM(), b.leadMM()), cmp.Compare(b.highMarginK, a.highMarginK), cmp.Compare(b.marginMM, a.marginMM))
	})
	size := st.component.Tree.Box().Size()
	apartMM := math.Hypot(size[0], size[1])
	taken := make([]bool, len(passed))
	perHost := map[int]int{}
	left := most
	for _, share := range []int{(most + 2) / 3, most} {
		for i, t := range passed {
			if left == 0 || taken[i] || perHost[t.host] >= share || near(passed, taken, t.point, apartMM) {
				continue
			}
			taken[i] = true
			perHost[t.host]++
			left--
		}
	}
	var out []*trial
	for i, t := range passed {
		if taken[i] {
			out = append(out, t)
		}
	}
	return out
}

// near reports whether a taken place lies within a distance of a point.
func near(list []*trial, taken []bool, point geom.Vec, withinMM float64) bool {
	for i, t := range list {
		if taken[i] && t.point.Sub(point).Len() < withinMM {
			return true
		}
	}
	return false
}

// polishRounds bounds the rounds of polish, polishMost the places of one round;
// each measures places that were not measured finely before.
const (
	polishRounds = 60
	polishMost   = 48
)

// polish measures the best places finely, and all others that might turn out to
// be the best, again where that changes which they are.
func (st *study) polish(ctx context.Context, tried []trial) error {
	report := st.progress.next(finalTicks)
	for range polishRounds {
		rough := st.rough(tried)
		if len(rough) == 0 {
			break
		}
		err := geom.Each(ctx, st.options.Workers, len(rough), nil, func(i int) error {
			return st.finish(ctx, rough[i])
		})
		if err != nil {
			return err
		}
		for _, t := range rough {
			t.rate(st)
		}
	}
	if report != nil {
		report(1, 1)
	}
	return ctx.Err()
}

// rough returns places that are not measured finely yet: of the best ones, and
// of those that may be better than the best that is, the most promising.
func (st *study) rough(tried []trial) []*trial {
	var out []*trial
	best := math.Inf(-1)
	for _, t := range st.best(tried, st.options.Most) {
		if st.slack(t) || st.isRough(t) {
			t.told = true
			out = append(out, t)
		} else {
			best = math.Max(best, t.score)
		}
	}
	if len(out) > 0 {
		return out
	}
	promise := map[*trial]float64{}
	for i := range tried {
		t := &tried[i]
		if t.reason == "" && st.isRough(t) {
			if p := t.promise(st); p > best {
				promise[t] = p
				out = append(out, t)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *trial) int { return cmp.Compare(promise[b], promise[a]) })
	return out[:min(len(out), polishMost)]
}

// slack reports whether a lead is not pulled taut yet.
func (st *study) slack(t *trial) bool { return st.wire != nil && !t.tight }

// isRough reports whether the score of a place that passed may still change.
func (st *study) isRough(t *trial) bool {
	return t.rays < fineRays && st.heat != nil || t.scoredBy == byReach && st.slack(t)
}

// finish measures a place finely: its lead pulled taut where it is told or
// decides the score, its heat by more rays.
func (st *study) finish(ctx context.Context, t *trial) error {
	if st.slack(t) && (t.told || t.scoredBy == byReach) {
		way, lengthMM, ok := st.tighten(t)
		if t.reason != "" {
			return nil
		}
		if ok && lengthMM <= *t.reachMM {
			t.way, t.reachMM = way, &lengthMM
		}
	}
	if t.rays >= fineRays || st.heat == nil {
		return nil
	}
	return st.heatOf(ctx, t, fineRays)
}

// spotOf tells a place that passed.
func (st *study) spotOf(ctx context.Context, t *trial, rank int) (Spot, error) {
	host := &st.scene.Parts[t.host]
	s := Spot{
		Component: st.layout.Name, Rank: rank, Host: host.Name, Group: host.Group,
		PointMM: t.point, Normal: t.normal, TurnDeg: turnOf(t.pose.R), Pose: t.pose,
		Cases: t.cases, ReachMM: t.reachMM, LeadMM: t.way, Supported: t.supportedShare,
		SlackMM: st.slackMM[host.Group], Score: t.score, ScoredBy: t.scoredBy, Verdict: balance.OK,
		Side: sideOf(t.normal),
	}
	if st.wire != nil {
		straightMM := t.pose.Point(st.wire.from).Sub(*st.layout.ServeMM).Len()
		s.StraightMM = &straightMM
	}
	if len(t.cases) > 0 {
		worst := &t.cases[t.worst]
		s.Temperature, s.WorstCase = &worst.Temperature, worst.Case
		for i := range t.cases {
			if t.cases[i].Verdict == balance.Close {
				s.Verdict = balance.Close
			}
		}
	}
	if t.nearest >= 0 {
		marginMM, leastMM := t.marginMM, t.leastMM
		s.MarginMM, s.LeastMM = &marginMM, &leastMM
		s.MarginPart, s.MarginState = st.scene.Parts[t.nearest].Name, t.state
		if marginMM < clearance.BandMM(leastMM) {
			s.Verdict = balance.Close
		}
	}
	if err := st.nearestPart(ctx, t, &s); err != nil {
		return s, err
	}
	s.Sentence = spotSentence(&s)
	return s, nil
}

// countAlike counts for every place given the candidates that it stands for.
func countAlike(spots []Spot, chosen []*trial, tried []trial) {
	for i := range tried {
		t := &tried[i]
		if t.reason != "" {
			continue
		}
		nearest, nearestMM := -1, math.Inf(1)
		for k, c := range chosen {
			if farMM := c.point.Sub(t.point).Len(); c.host == t.host && farMM < nearestMM {
				nearest, nearestMM = k, farMM
			}
		}
		if nearest >= 0 && chosen[nearest] != t {
			spots[nearest].Alike++
		}
	}
}

// nearestPart sets the clearance at rest to the nearest part but the host.
func (st *study) nearestPart(ctx context.Context, t *trial, s *Spot) error {
	guest := st.guest(t.pose, s.Group)
	body := dist.Body{Tree: guest.Tree, Pose: guest.Pose, Closed: guest.Closed}
	bestMM := math.Inf(1)
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if i == t.host || i == st.replaced || guest.Box.GapMM(p.Box) >= bestMM {
			continue
		}
		o := dist.Options{}
		if !math.IsInf(bestMM, 1) {
			o.EnoughMM = bestMM
		}
		r, err := dist.Between(ctx, body, st.scene.Body(i), o)
		if err != nil {
			return err
		}
		if !r.AtLeast && r.GapMM < bestMM {
			gapMM := r.GapMM
			bestMM, s.ClearanceMM, s.NearestPart = gapMM, &gapMM, p.Name
		}
	}
	return nil
}
