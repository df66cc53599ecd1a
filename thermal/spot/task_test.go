package spot

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// The assignment is the best of all permutations.
func TestAssignMeetsAllPermutations(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 0))
	for trial := range 200 {
		n := 1 + random.IntN(4)
		m := n + random.IntN(3)
		value := make([][]float64, n)
		for i := range value {
			for range m {
				x := random.Float64()*20 - 10
				if trial%2 == 0 {
					x = math.Round(x) // many alike
				}
				value[i] = append(value[i], x)
			}
		}
		column, sum := assign(value)
		var total float64
		for i, k := range column {
			total += value[i][k]
			if slices.Contains(column[:i], k) {
				t.Fatalf("column %d twice: %v", k, column)
			}
		}
		if best := bestSum(value, 0, make([]bool, m)); math.Abs(sum-best) > 1e-9 || math.Abs(total-sum) > 1e-9 {
			t.Errorf("%v: %g by %v, the best is %g", value, sum, column, best)
		}
	}
}

// bestSum tries everything. Bare numbers: values.
func bestSum(value [][]float64, row int, used []bool) float64 {
	if row == len(value) {
		return 0
	}
	best := math.Inf(-1)
	for k := range used {
		if !used[k] {
			used[k] = true
			best = math.Max(best, value[row][k]+bestSum(value, row+1, used))
			used[k] = false
		}
	}
	return best
}

// The joint choice is the best of all choices that do not clash.
func TestPuzzleMeetsAllChoices(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 0))
	for range 100 {
		var all []choice
		components := 2 + random.IntN(3)
		for i := range components {
			for range 1 + random.IntN(5) {
				all = append(all, choice{component: i, spot: &Spot{Score: math.Round(random.Float64()*10) - 3}})
			}
		}
		clash := make([][]bool, len(all))
		for i := range clash {
			clash[i] = make([]bool, len(all))
			for k := range i {
				clash[i][k] = all[i].component != all[k].component && random.Float64() < 0.6
				clash[k][i] = clash[i][k]
			}
		}
		p := newPuzzle(components, all, clash)
		picked, proven := p.solve()
		if !proven {
			t.Fatal("not proven")
		}
		worth := func(picked []int) float64 {
			var sum float64
			for _, c := range picked {
				if c < 0 {
					sum += unplacedScore
				} else {
					sum += all[c].spot.Score
				}
			}
			return sum
		}
		if _, _, found := p.clashIn(picked); found {
			t.Fatalf("%v clash", picked)
		}
		if best := bestChoice(p, nil, worth); worth(picked) != best {
			t.Errorf("%g, the best is %g", worth(picked), best)
		}
	}
}

// bestChoice tries everything. Bare numbers: scores.
func bestChoice(p *puzzle, picked []int, worth func([]int) float64) float64 {
	if _, _, found := p.clashIn(picked); found {
		return math.Inf(-1)
	}
	if len(picked) == p.components {
		return worth(picked)
	}
	best := bestChoice(p, append(slices.Clone(picked), -1), worth)
	for c := range p.all {
		if p.all[c].component == len(picked) {
			best = math.Max(best, bestChoice(p, append(slices.Clone(picked), c), worth))
		}
	}
	return best
}

// Three coils on one plate stand beside each other, with their spacing.
func TestThreeCoilsStandApart(t *testing.T) {
	s := stage(t, []block{plate()}, func(d *layout.Document) {
		d.Rules = []layout.Rule{{A: "role:coil", B: "role:coil", LeastMM: 25}}
		for _, name := range []string{"second", "third"} {
			next := d.Spots[0]
			next.Name = name
			d.Spots = append(d.Spots, next)
		}
	})
	r := search(t, s, Options{PointsPerHost: 60, Most: 6})
	if r.Joint == nil || len(r.Joint.Places) != 3 || !r.Joint.Proven {
		t.Fatalf("%+v", r.Joint)
	}
	var boxes []scene.Part
	st := studyOf(t, s, nil)
	for i, p := range r.Joint.Places {
		at := r.Studies[i].Spots[p.Rank-1]
		boxes = append(boxes, st.guest(at.Pose, ""))
		for _, other := range boxes[:i] {
			if gapMM := boxes[i].Box.GapMM(other.Box); gapMM < 25 && at.Normal.Dot(geom.Vec{0, 0, 1}) > 0.9 && other.Pose.R.At(2, 2) > 0.9 {
				t.Errorf("%s stands %.1f mm from another", p.Component, gapMM)
			}
		}
	}
}

// A longer lead opens what it is said to open.
func TestLongerLeadOpensPlaces(t *testing.T) {
	at := func(reachMM float64) Study {
		return search(t, stage(t, []block{plate()}, func(d *layout.Document) {
			d.Spots[0].ServeMM, d.Spots[0].ReachMM = &geom.Vec{200, 150, 400}, &reachMM
		}), Options{PointsPerHost: 100}).Studies[0]
	}
	short, long := at(350), at(400)
	if len(short.Spots) != 0 || len(long.Spots) == 0 {
		t.Fatalf("%d and %d places", len(short.Spots), len(long.Spots))
	}
	if len(short.Changes) != 1 || short.Changes[0].Opens == 0 {
		t.Fatalf("%+v", short.Changes)
	}
	passed := 0
	for i, one := range long.Tried {
		if i < short.Changes[0].Of+200 && one.Reason == "" {
			passed++
		}
	}
	if opens := short.Changes[0].Opens; opens > passed {
		t.Errorf("%d said to open, %d pass with the longer lead", opens, passed)
	}
	for _, part := range []string{"No place for box", TooFar, "What helps: allow a longer reach_mm", "A lead of 400 mm instead of 350 opens"} {
		if !strings.Contains(short.Sentence.String(), part) {
			t.Errorf("no %q in %q", part, short.Sentence)
		}
	}
}

// Weights choose what decides, equal scores the shorter lead.
func TestWeightsDecide(t *testing.T) {
	one := trial{marginMM: 12, highMarginK: 30, reachMM: new(200.0)}
	st := &study{layout: &layout.Spot{ReachMM: new(400.0)}, scene: &scene.Scene{Parts: make([]scene.Part, 1)}}
	for _, c := range []struct {
		weights *layout.Weights
		score   float64
		by      string
	}{
		{nil, 1.5, byTemperature},
		{&layout.Weights{Temperature: new(0.0)}, 2, byClearance},
		{&layout.Weights{Temperature: new(0.0), Clearance: new(0.0)}, 2.5, byReach},
		{&layout.Weights{Lead: new(5.0)}, 0.5, byReach},
		{&layout.Weights{Temperature: new(3.0)}, 0.5, byTemperature},
	} {
		st.layout.Weights = c.weights
		one.rate(st)
		if one.score != c.score || one.scoredBy != c.by {
			t.Errorf("%+v: %g by %s, want %g by %s", c.weights, one.score, one.scoredBy, c.score, c.by)
		}
	}
	one.highMarginK = -20
	st.layout.Weights = &layout.Weights{Temperature: new(2.0)}
	if one.rate(st); one.score != -2 {
		t.Errorf("a margin missed by 20 K, weighed twice: %g", one.score)
	}
	size := bvh.Build(componentMesh())
	st.options.Most, st.component = 5, &scene.Component{Shape: scene.Shape{Tree: size}}
	far := trial{place: onTop(0, 0), score: 1, reachMM: new(300.0)}
	near := trial{place: onTop(300, 0), score: 1, reachMM: new(100.0)}
	if order := st.best([]trial{far, near}, 5); len(order) != 2 || order[0].leadMM() != 100 {
		t.Error("of two equal places the one with the longer lead comes first")
	}
}

// First proposals come before the answer, and do not change it.
func TestFirstProposalsComeEarly(t *testing.T) {
	s := stage(t, []block{plate()}, nil)
	shown := 0
	r := search(t, s, Options{PointsPerHost: 100, Show: func(r *Result) {
		if shown++; !r.Refining || len(r.Studies) != 1 || len(r.Spots) == 0 {
			t.Errorf("shown: %+v", r)
		}
	}})
	if shown != 1 || r.Refining {
		t.Errorf("shown %d times, refining %v", shown, r.Refining)
	}
	if plain := search(t, s, Options{PointsPerHost: 100}); plain.Spots[0].PointMM != r.Spots[0].PointMM {
		t.Error("being watched changes the answer")
	}
}

func TestBadComponentsAreExplained(t *testing.T) {
	for _, c := range []struct {
		low, high geom.Vec
		want      string
	}{
		{geom.Vec{0, 0, 12}, geom.Vec{40, 30, 37}, "has no mounting face on z = 0 (its lowest point lies at z = 12 mm); move it by -12 mm along z"},
		{geom.Vec{0, 0, -25}, geom.Vec{40, 30, 0}, "lies below z = 0"},
	} {
		s := stage(t, []block{plate()}, nil)
		s.Spots[0].Mesh = boxMesh(c.low, c.high)
		s.Spots[0].Tree = bvh.Build(s.Spots[0].Mesh)
		if _, err := Search(t.Context(), s, nil, Options{}, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want %q, got %v", c.want, err)
		}
	}
	s := stage(t, []block{{name: "plate", role: "engine", high: geom.Vec{30, 25, 20}}}, nil)
	a := search(t, s, Options{PointsPerHost: 40}).Studies[0]
	for _, part := range []string{"No place for box", NotFlat, "its foot is 40 x 30 mm", "a smaller foot"} {
		if !strings.Contains(a.Sentence.String(), part) {
			t.Errorf("no %q in %q", part, a.Sentence)
		}
	}
}

// Every candidate is told for the picture, with its reason.
func TestMapHoldsEveryCandidate(t *testing.T) {
	a := search(t, stage(t, append([]block{plate()}, lids(40)...), nil), Options{PointsPerHost: 50}).Studies[0]
	if len(a.Tried) != a.Candidates {
		t.Fatalf("%d of %d", len(a.Tried), a.Candidates)
	}
	counts := map[string]int{}
	for _, one := range a.Tried {
		counts[one.Reason]++
	}
	for _, r := range a.Refused {
		if counts[r.Reason] != r.Count {
			t.Errorf("%s: %d on the map, %d counted", r.Reason, counts[r.Reason], r.Count)
		}
		if helps[r.Reason].String() == "" {
			t.Errorf("%s: nobody knows what helps", r.Reason)
		}
	}
	for _, reason := range reasons {
		if helps[reason].String() == "" {
			t.Errorf("%s: nobody knows what helps", reason)
		}
	}
}
