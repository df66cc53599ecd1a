package approach

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/say"
)

const (
	// ToleranceMM is how near to the asked gap counts as reached: a nanometre, more
	// than rounding takes and less than anything in a car is made to.
	ToleranceMM = 1e-6
	// CrossingStepMM is the step where surfaces cross and no depth is known.
	CrossingStepMM = 0.25
	// mostSteps ends a way that comes nearer ever more slowly: grazing.
	mostSteps = 20_000
)

// ErrDirection says that a direction points nowhere.
var ErrDirection = say.New("the direction points nowhere: give one such as [0, 0, 1]")

// Obstacle is a body that stays, and the gap to keep from it.
type Obstacle struct {
	dist.Body
	KeepMM float64
}

// Stop is where a way ends.
type Stop struct {
	ByMM  float64 // along the direction
	Found bool    // false: nothing was reached within the way that was allowed
	// Mover and Obstacle are the pair that decides, GapMM their gap there, negative
	// by the depth of an overlap.
	Mover, Obstacle int
	GapMM           float64
}

// pair is one mover against one obstacle, as last measured.
type pair struct {
	mover, obstacle int
	spareMM         float64 // gap less what is to keep, at atMM
	atMM            float64
	measured        bool
}

// way is a search under way.
type way struct {
	movers []dist.Body
	fixed  []Obstacle
	dir    geom.Vec
	pairs  []pair
	told   geom.Progress
	shown  int // thousandths told last
	looked int // measurements so far
}

// Until returns how far the movers can go along a direction, up to mostMM, until
// the first gap has come down to what its obstacle must keep; where some gap is
// too small to begin with, how far until all are kept. ctx is looked at before
// each measurement. Errors: ErrDirection, those of dist.Between, that of ctx.
func Until(ctx context.Context, movers []dist.Body, fixed []Obstacle, dir geom.Vec, mostMM float64) (Stop, error) {
	return UntilTold(ctx, movers, fixed, dir, mostMM, nil)
}

// UntilTold is Until that tells how far it has come, in thousandths: half of them
// for the first look at every pair, the others for the way so far beside what is
// still to spare there. What is told never goes back.
func UntilTold(ctx context.Context, movers []dist.Body, fixed []Obstacle, dir geom.Vec, mostMM float64, told geom.Progress) (Stop, error) {
	if !geom.IsFinite(dir) || !(dir.Len() > 0) {
		return Stop{}, ErrDirection
	}
	w := way{movers: movers, fixed: fixed, dir: dir.Normalize(), told: told}
	for m := range movers {
		for o := range fixed {
			w.pairs = append(w.pairs, pair{mover: m, obstacle: o, spareMM: math.Inf(-1)})
		}
	}
	if len(w.pairs) == 0 {
		return Stop{ByMM: mostMM}, nil
	}
	least, crossing, err := w.least(ctx, 0)
	if err != nil {
		return Stop{}, err
	}
	if least.spareMM < -ToleranceMM || crossing {
		return w.out(ctx, least, crossing, mostMM)
	}
	return w.in(ctx, least, mostMM)
}

// in goes on until the least spare gap is used up.
func (w *way) in(ctx context.Context, least pair, mostMM float64) (Stop, error) {
	byMM := 0.0
	for range mostSteps {
		if least.spareMM <= ToleranceMM {
			return w.stop(byMM, least, true), nil
		}
		if byMM += least.spareMM; byMM >= mostMM {
			break
		}
		var err error
		if least, _, err = w.least(ctx, byMM); err != nil {
			return Stop{}, err
		}
	}
	return w.stop(math.Min(byMM, mostMM), least, false), nil
}

// out goes on until no gap is too small.
func (w *way) out(ctx context.Context, least pair, crossing bool, mostMM float64) (Stop, error) {
	byMM, before := 0.0, 0.0
	for range mostSteps {
		if least.spareMM >= -ToleranceMM && !crossing {
			return w.stop(byMM, least, true), nil
		}
		step, blind := -least.spareMM, crossing && least.spareMM > -CrossingStepMM
		if blind {
			step = CrossingStepMM
		}
		if before, byMM = byMM, byMM+step; byMM >= mostMM {
			break
		}
		var err error
		if least, crossing, err = w.least(ctx, byMM); err != nil {
			return Stop{}, err
		}
		if blind && least.spareMM >= -ToleranceMM && !crossing {
			return w.halve(ctx, before, byMM)
		}
	}
	return w.stop(math.Min(byMM, mostMM), least, false), nil
}

// halve narrows down where the way becomes free between two places.
func (w *way) halve(ctx context.Context, inMM, freeMM float64) (Stop, error) {
	for freeMM-inMM > ToleranceMM {
		midMM := (inMM + freeMM) / 2
		least, crossing, err := w.least(ctx, midMM)
		if err != nil {
			return Stop{}, err
		}
		if least.spareMM >= -ToleranceMM && !crossing {
			freeMM = midMM
		} else {
			inMM = midMM
		}
	}
	least, _, err := w.least(ctx, freeMM)
	return w.stop(freeMM, least, true), err
}

// least returns the pair that has the least to spare at a place on the way;
// crossing tells that surfaces cross there and no depth is known.
func (w *way) least(ctx context.Context, byMM float64) (least pair, crossing bool, err error) {
	least.spareMM = math.Inf(1)
	for {
		next := -1
		boundMM := least.spareMM
		for i := range w.pairs {
			p := &w.pairs[i]
			lowMM := p.spareMM - math.Abs(byMM-p.atMM)
			if p.measured && p.atMM == byMM {
				continue
			}
			if !p.measured {
				lowMM = math.Inf(-1)
			}
			if lowMM < boundMM {
				next, boundMM = i, lowMM
			}
		}
		if next < 0 {
			return least, crossing, nil
		}
		p := &w.pairs[next]
		blind, err := w.measure(ctx, p, byMM)
		if err != nil {
			return least, crossing, err
		}
		crossing = crossing || blind
		w.tell(byMM, p.spareMM)
		if p.spareMM < least.spareMM {
			least = *p
		}
	}
}

// tell says how far the way has come after one more measurement.
func (w *way) tell(byMM, spareMM float64) {
	if w.looked++; w.told == nil {
		return
	}
	done := 500 * w.looked / len(w.pairs)
	if w.looked > len(w.pairs) {
		done = 500
		if all := byMM + math.Abs(spareMM); all > 0 {
			done += int(499 * byMM / all)
		}
	}
	w.shown = max(w.shown, min(done, 999))
	w.told(w.shown, 1000)
}

// measure brings a pair up to date; blind tells that its surfaces cross and no
// depth is known.
func (w *way) measure(ctx context.Context, p *pair, byMM float64) (blind bool, err error) {
	moved := w.movers[p.mover]
	moved.Pose = geom.Shift(w.dir.Mul(byMM)).After(moved.Pose)
	o := &w.fixed[p.obstacle]
	r, err := dist.Between(ctx, moved, o.Body, dist.Options{Overlap: true, DepthOnly: true})
	if err != nil {
		return false, say.Errorf("way along [%g, %g, %g]: %w", w.dir[0], w.dir[1], w.dir[2], err)
	}
	p.atMM, p.measured = byMM, true
	p.spareMM = r.GapMM - o.KeepMM
	if r.Overlap {
		p.spareMM = -r.DepthMM - o.KeepMM
	}
	return r.Overlap && r.DepthMM == 0, nil
}

func (w *way) stop(byMM float64, p pair, found bool) Stop {
	return Stop{ByMM: byMM, Found: found, Mover: p.mover, Obstacle: p.obstacle, GapMM: p.spareMM + w.fixed[p.obstacle].KeepMM}
}
