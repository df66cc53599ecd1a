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

// Probe asks for single gaps while one group stands somewhere else: what the
// drop study walks on. It may be used from several goroutines.
type Probe struct {
	c     *check
	group string
}

// Ruled is a pair, one part of the probe's group and one not, with the rule
// that decides it in one state.
type Ruled struct {
	A, B  int // part indices, A < B
	State string
	Rule  Rule
}

// NewProbe prepares the parts of the scene for a group that is to be shifted.
func NewProbe(ctx context.Context, s *scene.Scene, group string, workers int) (*Probe, error) {
	c, err := newCheck(ctx, s, Options{Workers: workers})
	if err != nil {
		return nil, err
	}
	return &Probe{c: c, group: group}, nil
}

// Ruled lists the pairs across the group's border that have a rule, by state.
func (p *Probe) Ruled() []Ruled {
	var out []Ruled
	jobs, _ := p.c.jobs(Rules(p.c.scene.Doc))
	for _, j := range jobs {
		if p.in(j.a) == p.in(j.b) {
			continue
		}
		for k, state := range states {
			if j.rules[k] != nil {
				out = append(out, Ruled{j.a, j.b, state, *j.rules[k]})
			}
		}
	}
	return out
}

// LeastMM returns the clearance that the rules ask for between two parts in a
// state, 0 where none does.
func (p *Probe) LeastMM(a, b int, state string) float64 {
	if r := winner(Rules(p.c.scene.Doc), &p.c.scene.Parts[a], &p.c.scene.Parts[b], state); r != nil {
		return r.LeastMM
	}
	return 0
}

func (p *Probe) in(i int) bool { return p.c.scene.Parts[i].Group == p.group }

// GapMM returns the clearance of a pair while the group is shifted by the given
// vector, tolerances taken off where the state asks for it; −Inf on overlap. It
// may stop early and answer any value of at least enoughMM once the gap is
// known to reach that. In the moving states it is the certified low end.
func (p *Probe) GapMM(ctx context.Context, r Ruled, shift geom.Vec, enoughMM float64) (float64, error) {
	a, b := p.c.cold[r.A], p.c.cold[r.B]
	if r.State == layout.StateHot || r.State == layout.StateAll {
		a, b = p.c.hot[r.A], p.c.hot[r.B]
	}
	ma, mb := p.c.motion[r.A], p.c.motion[r.B]
	if p.in(r.A) {
		a.Pose.T, ma.Pivot = a.Pose.T.Add(shift), ma.Pivot.Add(shift)
	} else {
		b.Pose.T, mb.Pivot = b.Pose.T.Add(shift), mb.Pivot.Add(shift)
	}
	var takenMM float64
	if r.State == layout.StateAll {
		takenMM = sweep.StackOf(toleranceMM(&p.c.scene.Parts[r.A]), toleranceMM(&p.c.scene.Parts[r.B])).WorstMM
	}
	moves := (r.State == layout.StateMoving || r.State == layout.StateAll) && !(ma.Still() && mb.Still())
	m := &mover{a: a, b: b, ma: ma, mb: mb, careMM: r.Rule.LeastMM + takenMM}
	gapMM, err := m.orStill(ctx, moves, enoughMM+takenMM+roundMM)
	return gapMM - takenMM, err
}

// orStill returns the certified low end of the moving gap, or the plain gap of
// bodies that stand still; −Inf on overlap.
func (m *mover) orStill(ctx context.Context, moves bool, enoughMM float64) (float64, error) {
	if moves {
		m.boxA, m.boxB = boxOf(m.a), boxOf(m.b)
		lowMM, err := m.lowMM(ctx, enoughMM)
		if err != nil || lowMM > 0 {
			return lowMM, err
		}
		return math.Inf(-1), nil
	}
	r, err := dist.Between(ctx, m.a, m.b, dist.Options{EnoughMM: enoughMM})
	if r.Overlap {
		return math.Inf(-1), err
	}
	return r.GapMM, err
}
