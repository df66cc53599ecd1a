package clearance

import (
	"cmp"
	"context"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/sweep"
)

// Options steer Run. The zero value checks everything on all processors.
type Options struct {
	Workers int     // 0: one per processor
	Prev    *Result // gaps of pairs whose parts did not change are taken from here
	// Brief leaves out shared volume and way out of the pairs that overlap, and the
	// chord errors: for a part in the hand. A run without it that follows fills
	// them in.
	Brief bool
}

// states in the order of the rows of one pair.
var states = []string{layout.StateStatic, layout.StateHot, layout.StateMoving, layout.StateAll} // Read-only.

// Run checks every pair of parts of the scene in every state that has a rule
// for it, and every pair in the static state. The result does not depend on
// the number of workers nor on Prev.
//
// It fails only when ctx is cancelled.
func Run(ctx context.Context, s *scene.Scene, o Options, progress geom.Progress) (*Result, error) {
	c, err := newCheck(ctx, s, o)
	if err != nil {
		return nil, err
	}
	m, again := c.plan()
	todo := c.changed(m, again)
	order := dearestFirst(s, m.jobs, todo)
	rows := make([][]Pair, len(m.jobs))
	m.raw = make([][]cached, len(m.jobs))
	if again {
		copy(m.raw, o.Prev.was.raw)
	}
	err = geom.Each(ctx, o.Workers, len(order), progress, func(k int) error {
		i := order[k]
		var err error
		rows[i], m.raw[i], err = c.pair(ctx, m.jobs[i])
		return err
	})
	if err != nil {
		return nil, say.Errorf("clearance: %w", err)
	}
	var fresh []ranked
	for _, i := range todo {
		for k := range rows[i] {
			fresh = append(fresh, ranked{&rows[i][k], int32(statesEach*i + k)})
		}
	}
	r := &Result{Unchecked: m.unchecked, was: m, chords: c.chords}
	if prev := o.Prev; again {
		r.merge(fresh, prev, todo, len(m.jobs))
	} else {
		r.merge(fresh, nil, todo, len(m.jobs))
	}
	return r, nil
}

// job is one pair of part indices, a < b, with the rules that decide it.
type job struct {
	a, b  int
	rules [4]*Rule // winner of each state, nil without one
}

// careMM is the least clearance asked for in state k, 0 without a rule.
func (j job) careMM(k int) float64 {
	if j.rules[k] == nil {
		return 0
	}
	return j.rules[k].LeastMM
}

// jobs lists the pairs to check and those left out, with the reason.
func (c *check) jobs(rules []Rule) ([]job, []Unchecked) {
	joined := joinedPairs(c.scene)
	var jobs []job
	unchecked := []Unchecked{}
	for a := range c.scene.Parts {
		for b := a + 1; b < len(c.scene.Parts); b++ {
			pa, pb := &c.scene.Parts[a], &c.scene.Parts[b]
			if joined[[2]int{a, b}] {
				unchecked = append(unchecked, Unchecked{A: pa.Name, B: pb.Name, Reason: say.Of("joined: contact is intended")})
				continue
			}
			j := job{a: a, b: b}
			for k, state := range states {
				j.rules[k] = winner(rules, pa, pb, state)
			}
			jobs = append(jobs, j)
		}
	}
	return jobs, unchecked
}

// joinedPairs returns the pairs of part indices, lower first, whose contact is
// intended. Names that no part has are the validation's affair.
func joinedPairs(s *scene.Scene) map[[2]int]bool {
	joined := map[[2]int]bool{}
	for _, names := range s.Doc.Joined {
		a, okA := s.Index(names[0])
		b, okB := s.Index(names[1])
		if okA && okB {
			joined[[2]int{min(a, b), max(a, b)}] = true
		}
	}
	return joined
}

// dearestFirst orders the jobs so that the long ones start first and no worker
// waits for a straggler: near pairs with many triangles.
func dearestFirst(s *scene.Scene, jobs []job, todo []int) []int {
	cost := make(map[int]float64, len(todo))
	for _, i := range todo {
		j := jobs[i]
		a, b := &s.Parts[j.a], &s.Parts[j.b]
		near := 1 + a.Box.GapMM(b.Box)
		cost[i] = float64(len(a.Mesh.Tris)+len(b.Mesh.Tris)) / near
		if j.rules[2] != nil || j.rules[3] != nil {
			cost[i] *= 100
		}
	}
	order := slices.Clone(todo)
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(cost[y], cost[x]) })
	return order
}

// motionOf returns the motion of a group in mm and radians; a group without
// motion stays put.
func motionOf(s *scene.Scene, group string) sweep.Motion {
	return sweep.MotionOf(s.Group(group), s.Positions(group))
}
