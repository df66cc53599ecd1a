package radiate

import (
	"context"
	"math"

	"aftbay/geom"
)

const (
	// bouncesEnough is the change of any share, per pass over all reflections,
	// at which the passes end.
	bouncesEnough = 1e-9
	// mostBounces bounds the passes where nearly nothing absorbs.
	mostBounces = 20000
)

// blocks is the coarser grid on which reflections are solved.
type blocks struct {
	f          *Factors
	of         []int     // of[p]: block of patch p
	partShare  []float64 // partShare[p]: of the block's area
	lostShare  []float64 // lostShare[block]: thrown back, one minus emissivity
	back       [][]backShare
	blockCount int
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
		b.lostShare[patch.Block] = 1 - e.Emissivity[p]
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

// solve returns the irradiation of every block, reflections included, columns
// as in r, by passes from one bounce to the next. Bare numbers: shares.
func (b *blocks) solve(ctx context.Context, r *Received, workers int) ([]float64, error) {
	n, cols := b.blockCount, r.Columns
	direct := make([]float64, n*cols)
	for p := range b.of {
		add(direct[b.of[p]*cols:(b.of[p]+1)*cols], r.Row(p), b.partShare[p])
	}
	now, next := append([]float64(nil), direct...), make([]float64, n*cols)
	steps := make([]float64, n) // steps[block]: largest change; ratios
	for range mostBounces {
		err := geom.Each(ctx, workers, n, nil, func(i int) error {
			row := next[i*cols : (i+1)*cols]
			copy(row, direct[i*cols:(i+1)*cols])
			for _, s := range b.back[i] {
				add(row, now[s.block*cols:(s.block+1)*cols], s.share)
			}
			steps[i] = largestStep(row, now[i*cols:(i+1)*cols])
			return nil
		})
		if err != nil {
			return nil, err
		}
		now, next = next, now
		worst := 0.0
		for _, c := range steps {
			worst = math.Max(worst, c)
		}
		if worst < bouncesEnough {
			break
		}
	}
	return now, nil
}

// largestStep returns the largest difference of two rows. Bare numbers: shares.
func largestStep(a, b []float64) float64 {
	worst := 0.0
	for c := range a {
		worst = math.Max(worst, math.Abs(a[c]-b[c]))
	}
	return worst
}
