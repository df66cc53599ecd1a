package balance

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/radiate"
)

// Options steer Run; all else is in the layout.
type Options struct {
	Workers     int // 0: one per processor
	MostPatches int // over all parts; 0: thermal/patch's default
	// Coarse asks for a first answer in a fraction of the time: few patches,
	// few rays. Result.Coarse says so.
	Coarse bool
	// Prev is an earlier answer for nearly the same scene: rays that what moved
	// cannot change are not traced again. The answer is the same without it.
	Prev *Result
	// Factors asks for the view factors even where there is no heat case.
	Factors bool
	// Extra parts stand in the scene for this run only; they get patches of
	// their own, so that those of the others stay as they are. In answers their
	// Part counts on from the scene's.
	Extra []scene.Part
}

// What a coarse answer makes do with. Common practice, no source.
const (
	coarsePatches = 700
	coarseBlocks  = 360
	coarseRays    = 32
	coarseStepK   = 0.3  // error of one step of a soak
	coarseSettleK = 0.02 // last step of a standing case
)

// Run answers all cases of the scene's heat study, in file order. Same input,
// same bits, whatever the number of workers. It fails on an unknown material,
// mount or case, on missing air, or when ctx ends. Without a heat case it looks
// no further than that.
func Run(ctx context.Context, s *scene.Scene, o Options, progress geom.Progress) (*Result, error) {
	if !o.Factors && (s.Doc.Heat == nil || len(s.Doc.Heat.Cases) == 0) {
		return &Result{Cases: []Case{}, Warnings: []Warning{}, Caution: thermal.Caution, Validation: thermal.Validation}, ctx.Err()
	}
	st, err := newStudy(ctx, s, o, progress)
	if err != nil {
		return nil, err
	}
	exchange, err := st.exchanges(ctx)
	if err != nil {
		return nil, err
	}
	r := &Result{Cases: []Case{}, Coarse: o.Coarse, LargestCorrection: st.factors.LargestCorrection, Patches: len(st.set.Patches), Caution: thermal.Caution, Validation: thermal.Validation, study: st}
	for _, n := range st.factors.Rays {
		r.Rays += n
	}
	r.Traced, r.Exact = st.factors.Traced, st.factors.Exact
	solved := map[string]*solution{}
	for i := range st.heat.Cases {
		hc := &st.heat.Cases[i]
		sol, err := st.solve(ctx, hc, solved, exchange)
		if err != nil {
			return nil, say.Errorf("heat case %q: %w", hc.Name, err)
		}
		solved[hc.Name] = sol
		answer, err := st.answer(ctx, hc, sol)
		if err != nil {
			return nil, err
		}
		r.Cases = append(r.Cases, answer)
	}
	if !o.Coarse {
		if err := st.sharpen(ctx, r); err != nil {
			return nil, err
		}
	}
	if err := st.warn(ctx, r); err != nil {
		return nil, err
	}
	if r.LargestCorrection > mostCorrection {
		st.assumed.add(say.F("view factors had to be corrected by up to %.3f: more rays would help", r.LargestCorrection))
	}
	r.Assumed = st.assumed
	return r, nil
}

// mostCorrection of a view factor is what few rays leave; above it the user is
// told. Common practice, no source.
const mostCorrection = 0.02

// solve answers one case for every variation.
func (st *study) solve(ctx context.Context, hc *layout.HeatCase, before map[string]*solution, exchange []*radiate.Absorbed) (*solution, error) {
	if hc.After == "" {
		return st.standing(ctx, hc, exchange)
	}
	from, ok := before[hc.After]
	if !ok {
		return nil, say.Errorf("after %q: no earlier case has that name", hc.After)
	}
	return st.soak(ctx, hc, from, exchange)
}
