package radiate

import (
	"context"
	"math"

	"aftbay/geom"
)

const (
	// mostSweeps bounds the passes over all patches; a bay takes four to six.
	mostSweeps = 40
	// settledShare: the passes end when no share changes by more. A hundredth of
	// what rays leave open.
	settledShare = 1e-6
	// slowShare: a sweep that leaves more of the last one's change is slow, and
	// the blocks are asked.
	slowShare = 0.4
)

// refine sweeps over the patches until what each receives is the direct
// radiation plus what all others throw back, reflections between patches. After
// a slow sweep the blocks' solution takes off the part of the rest that is even
// over blocks, which sweeps alone would lose slowly where hardly anything is
// absorbed. It fails only when ctx ends.
func (b *blocks) refine(ctx context.Context, r *Received, workers, sweeps int) error {
	n, cols := len(b.of), r.Columns
	next := make([]float64, len(r.Share))
	worst := make([]float64, n) // per patch
	last := math.Inf(1)
	for range sweeps {
		err := geom.Each(ctx, workers, n, nil, func(p int) error {
			row := next[p*cols : (p+1)*cols]
			copy(row, r.Direct(p))
			b.throwBack(row, p, r)
			worst[p] = 0
			for c, v := range r.Row(p) {
				worst[p] = math.Max(worst[p], math.Abs(row[c]-v))
			}
			return nil
		})
		if err != nil {
			return err
		}
		largest := 0.0
		for _, w := range worst {
			largest = math.Max(largest, w)
		}
		slow := largest > slowShare*last
		var rest []float64
		if slow {
			rest = b.restOf(r, next)
		}
		r.Share, next = next, r.Share
		if largest < settledShare {
			return nil
		}
		if slow {
			if err := b.correct(ctx, r, rest, workers); err != nil {
				return err
			}
		}
		last = largest
	}
	return nil
}

// throwBack adds to a row what all patches throw back to patch p. Bare numbers:
// shares.
func (b *blocks) throwBack(row []float64, p int, r *Received) {
	f := b.f
	for k := f.Start[p]; k < f.Start[p+1]; k++ {
		q := int(f.To[k])
		if lost := b.lostShare[b.of[q]]; lost > 0 {
			add(row, r.Row(q), lost*f.Value[k])
		}
	}
}

// restOf returns the mean change of a sweep over every block. Bare numbers:
// shares.
func (b *blocks) restOf(r *Received, next []float64) []float64 {
	cols := r.Columns
	rest := make([]float64, b.blockCount*cols)
	for p, block := range b.of {
		to := rest[block*cols : (block+1)*cols]
		from := next[p*cols : (p+1)*cols]
		old := r.Row(p)
		for c := range to {
			to[c] += b.partShare[p] * (from[c] - old[c])
		}
	}
	return rest
}

// correct adds to every patch what the changes of the sweep will still bring
// about, as its block sees it. Bare numbers: shares.
func (b *blocks) correct(ctx context.Context, r *Received, rest []float64, workers int) error {
	cols := r.Columns
	bring, err := b.solved(ctx, rest, cols, workers)
	if err != nil {
		return err
	}
	for i := range bring {
		bring[i] -= rest[i]
	}
	return geom.Each(ctx, workers, len(b.of), nil, func(p int) error {
		add(r.Row(p), bring[b.of[p]*cols:(b.of[p]+1)*cols], 1)
		return nil
	})
}
