package spot

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/say"
	"aftbay/geom/sweep"
)

// Joint is where all components of the layout are mounted together, none in the
// other's place or way. The sum of their scores is the largest that their spots
// allow. Bare numbers: scores.
type Joint struct {
	Places   []JointPlace `json:"places"`
	Unplaced []string     `json:"unplaced"` // components without a place beside the others
	ScoreSum float64      `json:"score_sum"`
	Proven   bool         `json:"proven"` // no better choice exists among the spots
	Sentence say.Text     `json:"sentence"`
}

// JointPlace is one component in one of its spots.
type JointPlace struct {
	Component string   `json:"component"`
	Rank      int      `json:"rank"` // of the spot, see Study.Spots
	Host      string   `json:"host"`
	PointMM   geom.Vec `json:"point_mm"`
	Score     float64  `json:"score"`
}

// joint chooses one spot for every component.
func joint(ctx context.Context, searches []*study, studies []Study) (*Joint, error) {
	if len(studies) < 2 {
		return nil, nil
	}
	var all []choice
	for i := range studies {
		for k := range studies[i].Spots {
			all = append(all, choice{component: i, spot: &studies[i].Spots[k]})
		}
	}
	clash, err := clashes(ctx, searches, all)
	if err != nil {
		return nil, err
	}
	picked, proven := newPuzzle(len(studies), all, clash).solve()
	j := &Joint{Places: []JointPlace{}, Unplaced: []string{}, Proven: proven}
	for i, p := range picked {
		if p < 0 {
			j.Unplaced = append(j.Unplaced, studies[i].Name)
			continue
		}
		s := all[p].spot
		j.Places = append(j.Places, JointPlace{Component: s.Component, Rank: s.Rank, Host: s.Host, PointMM: s.PointMM, Score: s.Score})
		j.ScoreSum += s.Score
	}
	j.Sentence = j.sentence()
	return j, nil
}

func (j *Joint) sentence() say.Text {
	var names []say.Text
	moved := false
	for _, p := range j.Places {
		names = append(names, say.F("%s at place %d on %s", p.Component, p.Rank, p.Host))
		moved = moved || p.Rank > 1
	}
	text := say.Join(names, ", ")
	switch {
	case len(j.Places) == 0:
		return say.Of("No component has a place.")
	case moved:
		text = say.F("Together best: %s", text)
	default:
		text = say.F("Together they can all take their best place: %s", text)
	}
	if len(j.Unplaced) > 0 {
		text = say.F("%s; no place beside the others for %s", text, strings.Join(j.Unplaced, ", "))
	}
	return say.F("%s.", text)
}

// choice is one component in one of its spots.
type choice struct {
	component int
	spot      *Spot
}

// clashes tells for every two choices whether they exclude each other.
func clashes(ctx context.Context, searches []*study, all []choice) ([][]bool, error) {
	clash := make([][]bool, len(all))
	for i := range clash {
		clash[i] = make([]bool, len(all))
	}
	workers := 0
	if len(searches) > 0 {
		workers = searches[0].options.Workers
	}
	err := geom.Each(ctx, workers, len(all), nil, func(i int) error {
		for k := range i {
			if all[i].component == all[k].component {
				continue
			}
			meets, err := clashing(ctx, searches[all[i].component], searches[all[k].component], all[i].spot, all[k].spot)
			if err != nil {
				return err
			}
			clash[i][k] = meets
		}
		return nil
	})
	for i := range clash {
		for k := range i {
			clash[k][i] = clash[i][k]
		}
	}
	return clash, err
}

// clashing reports whether two components in two places come too near to each
// other, or one stands in the way of the other's tool or removal.
func clashing(ctx context.Context, sa, sb *study, a, b *Spot) (bool, error) {
	ga, gb := sa.guest(a.Pose, a.Group), sb.guest(b.Pose, b.Group)
	leastMM := touchMM
	for _, r := range sa.guests.RulesBetween(&ga, &gb) {
		leastMM = max(leastMM, r.LeastMM)
	}
	if a.Group != b.Group {
		leastMM += sa.strayMM(a.Group, ga.Box) + sb.strayMM(b.Group, gb.Box)
	}
	bodyA := dist.Body{Tree: ga.Tree, Pose: ga.Pose, Closed: ga.Closed}
	bodyB := dist.Body{Tree: gb.Tree, Pose: gb.Pose, Closed: gb.Closed}
	if ga.Box.GapMM(gb.Box) < leastMM {
		r, err := dist.Between(ctx, bodyA, bodyB, dist.Options{EnoughMM: leastMM})
		if err != nil || r.Overlap || r.GapMM < leastMM {
			return true, err
		}
	}
	blocked, err := sa.blockedBy(ctx, a, bodyB)
	if err != nil || blocked {
		return blocked, err
	}
	return sb.blockedBy(ctx, b, bodyA)
}

// strayMM bounds how far a group's motion carries what lies in a box.
func (st *study) strayMM(group string, box geom.Box) float64 {
	if group == "" {
		return 0
	}
	return sweep.MotionOf(st.scene.Group(group), st.scene.Positions(group)).ReachMM(box)
}

// blockedBy reports whether another component stands in the way of the tool or
// of the removal.
func (st *study) blockedBy(ctx context.Context, s *Spot, other dist.Body) (bool, error) {
	if st.tool != nil {
		tool := dist.Body{Tree: st.tool.Tree, Pose: s.Pose, Closed: true}
		if posedBox(tool).GapMM(posedBox(other)) <= 0 {
			r, err := dist.Between(ctx, tool, other, dist.Options{EnoughMM: touchMM})
			if err != nil || r.Overlap {
				return true, err
			}
		}
	}
	p := st.pullOf(s.Pose)
	other.Pose = p.back.After(other.Pose)
	return meets(p.body, other, dist.Sweep{Shift: geom.Box{Max: geom.Vec{0, 0, p.wayMM}}}), nil
}

// puzzle is the choice of one spot for every component.
type puzzle struct {
	components int
	all        []choice
	clash      [][]bool
	site       []int // site[i]: of choice i; at most one choice of a site can be taken
	sites      int
}

// newPuzzle gathers choices that exclude each other into sites.
func newPuzzle(components int, all []choice, clash [][]bool) *puzzle {
	p := &puzzle{components: components, all: all, clash: clash, site: make([]int, len(all))}
	var members [][]int
	for i := range all {
		k := slices.IndexFunc(members, func(site []int) bool {
			return !slices.ContainsFunc(site, func(j int) bool { return all[j].component != all[i].component && !clash[i][j] })
		})
		if k < 0 {
			k = len(members)
			members = append(members, nil)
		}
		members[k] = append(members[k], i)
		p.site[i] = k
	}
	p.sites = len(members)
	return p
}

const (
	// unplacedScore stands for a component that gets no place: worse than any.
	unplacedScore = -1e6
	// mostNodes bounds the search; beyond it the best found is given, unproven.
	mostNodes = 3000
)

// node is a part of the search: choices that are ruled out, the best that the
// sites allow then, and what that is worth. Bare numbers: scores.
type node struct {
	barred []int
	picked []int // choice per component, −1 for none
	sum    float64
}

// solve returns the choice of every component, −1 for none, and whether it is
// the best. Method: the best assignment of components to sites is an upper
// bound; where two of its choices clash, one or the other is ruled out, and the
// part of the search with the best bound goes on.
func (p *puzzle) solve() (picked []int, proven bool) {
	open := []node{p.bound(nil)}
	for range mostNodes {
		best := 0
		for i := range open {
			if open[i].sum > open[best].sum {
				best = i
			}
		}
		n := open[best]
		open = slices.Delete(open, best, best+1)
		a, b, found := p.clashIn(n.picked)
		if !found {
			return n.picked, true
		}
		open = append(open, p.bound(append(slices.Clone(n.barred), a)), p.bound(append(slices.Clone(n.barred), b)))
	}
	return p.greedy(), false
}

// bound solves the assignment of components to sites without the barred
// choices.
func (p *puzzle) bound(barred []int) node {
	columns := p.sites + p.components // the last ones: no place
	value, choiceAt := make([][]float64, p.components), make([][]int, p.components)
	for i := range value {
		value[i], choiceAt[i] = make([]float64, columns), make([]int, columns)
		for k := range value[i] {
			value[i][k], choiceAt[i][k] = unplacedScore, -1
		}
	}
	for c := range p.all {
		i, k := p.all[c].component, p.site[c]
		if score := p.all[c].spot.Score; score > value[i][k] && !slices.Contains(barred, c) {
			value[i][k], choiceAt[i][k] = score, c
		}
	}
	column, sum := assign(value)
	n := node{barred: barred, sum: sum}
	for i, k := range column {
		n.picked = append(n.picked, choiceAt[i][k])
	}
	return n
}

// clashIn returns two choices that exclude each other.
func (p *puzzle) clashIn(picked []int) (a, b int, found bool) {
	for i, x := range picked {
		for _, y := range picked[:i] {
			if x >= 0 && y >= 0 && p.clash[x][y] {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

// greedy takes choices by score, as long as they do not clash.
func (p *puzzle) greedy() []int {
	order := make([]int, len(p.all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.all[b].spot.Score, p.all[a].spot.Score) })
	picked := make([]int, p.components)
	for i := range picked {
		picked[i] = -1
	}
	for _, c := range order {
		i := p.all[c].component
		if picked[i] < 0 && !slices.ContainsFunc(picked, func(k int) bool { return k >= 0 && p.clash[c][k] }) {
			picked[i] = c
		}
	}
	return picked
}
