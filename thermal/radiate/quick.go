package radiate

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
)

const (
	// quickSweeps bounds the sweeps of a first answer; a bay of painted parts and
	// castings takes about six.
	quickSweeps = 30
	// quickShare is how far off a share may be when they end, by the pace at which
	// the changes shrink: 0.1 % of what a black source would send.
	quickShare = 1e-3
	// sweepColumns are swept together, so that a block's row stays at hand.
	sweepColumns = 16
)

// ExchangeQuick is Exchange with reflected radiation taken as even over blocks
// and found by few sweeps: a first answer. It fails only when ctx ends.
func ExchangeQuick(ctx context.Context, f *Factors, e Emission, workers int) (*Received, error) {
	r, err := direct(ctx, f, e, workers)
	if err != nil {
		return nil, err
	}
	b := newBlocks(f, e)
	if r.BlockShare, err = b.quick(ctx, r, nil, workers); err != nil {
		return nil, err
	}
	r.DirectShare = slices.Clone(r.Share)
	return r, geom.Each(ctx, workers, len(f.Away), nil, func(p int) error {
		b.finish(p, r)
		return nil
	})
}

// QuickParts is ExchangeParts for emissivities near those of a first answer,
// found by few sweeps from there.
func (r *Received) QuickParts(ctx context.Context, f *Factors, e Emission, workers int) (*Absorbed, error) {
	now, err := direct(ctx, f, e, workers)
	if err != nil {
		return nil, err
	}
	if now.BlockShare, err = newBlocks(f, e).quick(ctx, now, r.BlockShare, workers); err != nil {
		return nil, err
	}
	return AbsorbBlocks(now), nil
}

// quick is solve by sweeps from a guess, nil for none. Where they do not settle
// it is solve. Bare numbers: shares.
func (b *blocks) quick(ctx context.Context, r *Received, from []float64, workers int) ([]float64, error) {
	cols := r.Columns
	direct := b.direct(r)
	if from == nil {
		from = direct
	}
	out := slices.Clone(from)
	pieces := (cols + sweepColumns - 1) / sweepColumns
	settled := make([]bool, pieces)
	err := geom.Each(ctx, workers, pieces, nil, func(k int) error {
		c := k * sweepColumns
		settled[k] = b.sweepColumns(out, direct, cols, c, min(cols, c+sweepColumns))
		return nil
	})
	if err != nil || !slices.Contains(settled, false) {
		return out, err
	}
	return b.solve(ctx, r, workers)
}

// sweepColumns sweeps some columns by Gauss and Seidel's method and reports
// whether they settled. Bare numbers: shares.
func (b *blocks) sweepColumns(out, direct []float64, cols, from, to int) bool {
	row := make([]float64, to-from)
	last := 0.0
	for range quickSweeps {
		most := 0.0
		for i, list := range b.back {
			copy(row, direct[i*cols+from:i*cols+to])
			own := 0.0
			for _, s := range list {
				if s.block == i {
					own = s.share
					continue
				}
				add(row, out[s.block*cols+from:s.block*cols+to], s.share)
			}
			was := out[i*cols+from : i*cols+to]
			for c := range row {
				now := row[c] / (1 - own)
				most = math.Max(most, math.Abs(now-was[c]))
				was[c] = now
			}
		}
		// The changes shrink like a geometric row: what is left is their sum.
		if pace := most / last; most == 0 || pace < 1 && most*pace/(1-pace) < quickShare {
			return true
		}
		last = most
	}
	return false
}
