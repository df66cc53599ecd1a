package radiate

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/thermal"
)

// leastTaken is what every surface is made to absorb at least, so that a cavity
// of perfect reflectors has one solution; far below any measured emissivity.
const leastTaken = 1e-9

// blocks is the coarser grid on which reflections are solved.
type blocks struct {
	f          *Factors
	of         []int     // of[p]: block of patch p
	partShare  []float64 // partShare[p]: of the block's area
	lostShare  []float64 // lostShare[block]: thrown back, one minus emissivity
	back       [][]backShare
	blockCount int
	equations  *thermal.Equations // factored: a block's irradiation less what all throw back to it
}

// backShare is the share of a block's radiation that another throws back.
type backShare struct {
	block int
	share float64
}

func newBlocks(f *Factors, e Emission) *blocks {
	n := f.Set.Blocks
	b := &blocks{f: f, blockCount: n, of: make([]int, len(f.Away)), partShare: make([]float64, len(f.Away)), lostShare: make([]float64, n), back: make([][]backShare, n)}
	areasM2 := make([]float64, n)
	members := make([][]int, n)
	for p, patch := range f.Set.Patches {
		b.of[p] = patch.Block
		areasM2[patch.Block] += patch.AreaM2
		members[patch.Block] = append(members[patch.Block], p)
		b.lostShare[patch.Block] = math.Min(1-e.Emissivity[p], 1-leastTaken)
	}
	for p, patch := range f.Set.Patches {
		if areasM2[patch.Block] > 0 {
			b.partShare[p] = patch.AreaM2 / areasM2[patch.Block]
		}
	}
	row := make([]float64, n)
	for i, patches := range members {
		clear(row)
		for _, p := range patches {
			b.addBlocks(row, p, b.partShare[p])
		}
		for j, share := range row {
			if share *= b.lostShare[j]; share > 0 {
				b.back[i] = append(b.back[i], backShare{j, share})
			}
		}
	}
	return b
}

// addBlocks adds the weighed factors of patch p, summed by block. Bare numbers:
// factors.
func (b *blocks) addBlocks(row []float64, p int, weight float64) {
	f := b.f
	for k := f.Start[p]; k < f.Start[p+1]; k++ {
		row[b.of[f.To[k]]] += weight * f.Value[k]
	}
}

// finish adds what patch p receives by reflection to its direct shares.
func (b *blocks) finish(p int, r *Received) {
	weights := make([]float64, b.blockCount)
	b.addBlocks(weights, p, 1)
	row := r.Row(p)
	for j, weight := range weights {
		if weight *= b.lostShare[j]; weight > 0 {
			add(row, r.block(j), weight)
		}
	}
}

// direct returns what comes straight to every block, columns as in r. Bare
// numbers: shares.
func (b *blocks) direct(r *Received) []float64 {
	cols := r.Columns
	out := make([]float64, b.blockCount*cols)
	for p := range b.of {
		add(out[b.of[p]*cols:(b.of[p]+1)*cols], r.Row(p), b.partShare[p])
	}
	return out
}

// solve returns the irradiation of every block, reflections included, columns
// as in r: the direct one plus what all blocks throw back, solved at once, so
// that a cavity from which radiation hardly finds out costs no more than another.
// Bare numbers: shares.
func (b *blocks) solve(ctx context.Context, r *Received, workers int) ([]float64, error) {
	n, cols := b.blockCount, r.Columns
	direct := b.direct(r)
	b.equations = thermal.NewEquations(n)
	equations := b.equations
	for i, row := range b.back {
		for _, s := range row {
			equations.Row(i)[s.block] = -s.share
		}
		equations.Row(i)[i]++
	}
	if err := equations.Factor(); err != nil {
		return nil, say.Errorf("exchange of radiation: %w", err)
	}
	return b.solved(ctx, direct, cols, workers)
}

// solved returns the solutions for all columns of a right side. Bare numbers:
// shares.
func (b *blocks) solved(ctx context.Context, right []float64, cols, workers int) ([]float64, error) {
	n := b.blockCount
	out := make([]float64, n*cols)
	pieces := (cols + thermal.Lanes - 1) / thermal.Lanes
	err := geom.Each(ctx, workers, pieces, nil, func(k int) error {
		from := k * thermal.Lanes
		to := min(cols, from+thermal.Lanes)
		x := make([][thermal.Lanes]float64, n)
		for i := range x {
			copy(x[i][:], right[i*cols+from:i*cols+to])
		}
		b.equations.SolveLanes(x)
		for i := range x {
			copy(out[i*cols+from:i*cols+to], x[i][:])
		}
		return nil
	})
	return out, err
}
