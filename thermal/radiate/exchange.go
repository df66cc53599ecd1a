package radiate

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/thermal/patch"
)

// Emission says what the patches radiate. Bare numbers: emissivities and
// weights.
type Emission struct {
	// Emissivity[p] of each patch, 0..1; 0 throws everything back.
	Emissivity []float64
	// Columns is the number of emitters, the surroundings not counted.
	Columns int
	// Column[p]: emitter that patch p belongs to.
	Column []int32
	// Second[p], where not nil and not −1: another emitter of the same patch,
	// with the weight SecondWeight[p]; for a part whose temperature varies.
	Second       []int32
	SecondWeight []float64
}

// Received is the irradiation of every patch per emitter, reflections included.
// Bare numbers: W/m² per W/m² of black emission.
type Received struct {
	Columns int // emitters and, last, the surroundings
	// Share[p*Columns+c]: irradiation of patch p per σT⁴ of emitter c.
	Share []float64
}

// Row returns the shares of patch p. The caller must not change it. Bare
// numbers: shares.
func (r *Received) Row(p int) []float64 { return r.Share[p*r.Columns : (p+1)*r.Columns] }

const (
	// bouncesEnough is the change of any share, per pass over all reflections,
	// at which the passes end.
	bouncesEnough = 1e-10
	// mostBounces bounds the passes where nearly nothing absorbs.
	mostBounces = 20000
)

// Exchange returns what every patch receives from every emitter and from the
// surroundings. Direct radiation is taken between patches, reflections between
// blocks of them, over which reflected radiation is even. It fails only when
// ctx ends.
func Exchange(ctx context.Context, f *Factors, e Emission, workers int) (*Received, error) {
	r := &Received{Columns: e.Columns + 1}
	r.Share = make([]float64, len(f.Away)*r.Columns)
	err := geom.Each(ctx, workers, len(f.Away), nil, func(p int) error {
		f.direct(p, e, r.Row(p))
		return nil
	})
	if err != nil {
		return nil, err
	}
	b := newBlocks(f, e)
	reflected, err := b.solve(ctx, r, workers)
	if err != nil {
		return nil, err
	}
	err = geom.Each(ctx, workers, len(f.Away), nil, func(p int) error {
		row := r.Row(p)
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			q := int(f.To[k])
			if lost := 1 - e.Emissivity[q]; lost > 0 {
				from := reflected[b.of[q]*r.Columns : (b.of[q]+1)*r.Columns]
				add(row, from, f.Value[k]*lost)
			}
		}
		return nil
	})
	return r, err
}

// direct adds what patch p receives straight from each emitter.
func (f *Factors) direct(p int, e Emission, row []float64) { // Bare numbers: shares
	for k := f.Start[p]; k < f.Start[p+1]; k++ {
		q := f.To[k]
		value := f.Value[k] * e.Emissivity[q]
		row[e.Column[q]] += value
		if e.Second != nil && e.Second[q] >= 0 {
			row[e.Second[q]] += value * e.SecondWeight[q]
		}
	}
	row[e.Columns] = f.Away[p]
}

// add adds weight times from to row.
func add(row, from []float64, weight float64) { // Bare numbers: shares
	from = from[:len(row)]
	for c := range row {
		row[c] += weight * from[c]
	}
}

// blocks is the coarser grid on which reflections are solved.
type blocks struct {
	f    *Factors
	e    Emission
	of   []int     // of[p]: block of patch p
	part []float64 // part[p]: share of the block's area. Bare numbers: shares
	// back[b]: pairs of block and share of b's radiation that is thrown back
	// from there.
	back [][]backShare
}

type backShare struct {
	block int
	share float64
}

func newBlocks(f *Factors, e Emission) *blocks {
	n := f.Set.Blocks
	b := &blocks{f: f, e: e, of: make([]int, len(f.Away)), part: make([]float64, len(f.Away)), back: make([][]backShare, n)}
	areasM2 := make([]float64, n)
	members := make([][]int, n)
	for p, patch := range f.Set.Patches {
		b.of[p] = patch.Block
		areasM2[patch.Block] += patch.AreaM2
		members[patch.Block] = append(members[patch.Block], p)
	}
	for p, patch := range f.Set.Patches {
		if areasM2[patch.Block] > 0 {
			b.part[p] = patch.AreaM2 / areasM2[patch.Block]
		}
	}
	row := make([]float64, n)
	for i, patches := range members {
		clear(row)
		for _, p := range patches {
			for k := f.Start[p]; k < f.Start[p+1]; k++ {
				q := f.To[k]
				row[b.of[q]] += b.part[p] * f.Value[k] * (1 - e.Emissivity[q])
			}
		}
		for j, share := range row {
			if share > 0 {
				b.back[i] = append(b.back[i], backShare{j, share})
			}
		}
	}
	return b
}

// solve returns the irradiation of every block, reflections included, columns
// as in r, by passes from one bounce to the next. Bare numbers: shares.
func (b *blocks) solve(ctx context.Context, r *Received, workers int) ([]float64, error) {
	n, cols := b.f.Set.Blocks, r.Columns
	direct := make([]float64, n*cols)
	for p := range b.of {
		add(direct[b.of[p]*cols:(b.of[p]+1)*cols], r.Row(p), b.part[p])
	}
	now, next := append([]float64(nil), direct...), make([]float64, n*cols)
	change := make([]float64, n)
	for range mostBounces {
		err := geom.Each(ctx, workers, n, nil, func(i int) error {
			row := next[i*cols : (i+1)*cols]
			copy(row, direct[i*cols:(i+1)*cols])
			for _, s := range b.back[i] {
				add(row, now[s.block*cols:(s.block+1)*cols], s.share)
			}
			change[i] = largestStep(row, now[i*cols:(i+1)*cols])
			return nil
		})
		if err != nil {
			return nil, err
		}
		now, next = next, now
		worst := 0.0
		for _, c := range change {
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

// Absorbed sums over parts what is absorbed per σT⁴ of every emitter.
type Absorbed struct {
	// FromM2[part][c]: absorbed by the part per σT⁴ of emitter c; the last
	// column is the surroundings.
	FromM2 [][]float64
	// EmitM2[part]: radiated per σT⁴ of the part at one temperature.
	EmitM2 []float64
}

// Absorb returns what the parts absorb and radiate.
func Absorb(set *patch.Set, e Emission, r *Received) *Absorbed {
	parts := len(set.EdgesMM)
	a := &Absorbed{FromM2: make([][]float64, parts), EmitM2: make([]float64, parts)}
	for i := range parts {
		a.FromM2[i] = make([]float64, r.Columns)
	}
	for p, patch := range set.Patches {
		takesM2 := patch.AreaM2 * e.Emissivity[p]
		a.EmitM2[patch.Part] += takesM2
		add(a.FromM2[patch.Part], r.Row(p), takesM2)
	}
	return a
}
