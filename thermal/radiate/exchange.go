package radiate

import (
	"context"
	"slices"

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

// Received is what reaches the patches from every emitter and, in the last
// column, from the black surroundings, reflections included. Bare numbers: W/m²
// per W/m² of black emission.
type Received struct {
	Columns int
	// Share[p*Columns+c]: irradiation of patch p per σT⁴ of emitter c.
	Share []float64
	// DirectShare[p*Columns+c]: of it, what comes straight from the emitter.
	DirectShare []float64
	// BlockShare[b*Columns+c]: the mean over block b.
	BlockShare []float64

	set      *patch.Set
	box      geom.Box // of set, mm
	emission Emission
}

// Row returns the shares of patch p. The caller must not change it. Bare
// numbers: shares.
func (r *Received) Row(p int) []float64 { return r.Share[p*r.Columns : (p+1)*r.Columns] }

// Direct returns the shares of patch p that come without a reflection. The
// caller must not change it. Bare numbers: shares.
func (r *Received) Direct(p int) []float64 { return r.DirectShare[p*r.Columns : (p+1)*r.Columns] }

// block returns the shares of block b. Bare numbers: shares.
func (r *Received) block(b int) []float64 { return r.BlockShare[b*r.Columns : (b+1)*r.Columns] }

// AddLeaving adds to row, weighed, what leaves patch p per emitter: its own
// radiation and what it throws back. Bare numbers: shares.
func (r *Received) AddLeaving(row []float64, p int, weight float64) {
	r.emission.addOwn(row, p, weight)
	if lost := 1 - r.emission.Emissivity[p]; lost > 0 {
		add(row, r.Row(p), weight*lost)
	}
}

// addOwn adds the own radiation of patch p, weighed. Bare numbers: shares.
func (e *Emission) addOwn(row []float64, p int, weight float64) {
	weight *= e.Emissivity[p]
	row[e.Column[p]] += weight
	if e.Second != nil && e.Second[p] >= 0 {
		row[e.Second[p]] += weight * e.SecondWeight[p]
	}
}

// Exchange returns what every patch receives: direct radiation and reflections
// between patches, solved by sweeps that blocks of patches speed up. It fails
// only when ctx ends.
func Exchange(ctx context.Context, f *Factors, e Emission, workers int) (*Received, error) {
	return exchange(ctx, f, e, workers, mostSweeps)
}

// exchange is Exchange with at most so many sweeps; with none, reflected
// radiation is taken as even over blocks.
func exchange(ctx context.Context, f *Factors, e Emission, workers, sweeps int) (*Received, error) {
	r, b, err := exchangeBlocks(ctx, f, e, workers)
	if err != nil {
		return nil, err
	}
	r.DirectShare = slices.Clone(r.Share)
	err = geom.Each(ctx, workers, len(f.Away), nil, func(p int) error {
		b.finish(p, r)
		return nil
	})
	if err != nil || sweeps == 0 {
		return r, err
	}
	return r, b.refine(ctx, r, workers, sweeps)
}

// ExchangeParts returns what whole parts absorb with reflected radiation taken
// as even over blocks: for telling what a change of emissivities changes.
func ExchangeParts(ctx context.Context, f *Factors, e Emission, workers int) (*Absorbed, error) {
	r, _, err := exchangeBlocks(ctx, f, e, workers)
	if err != nil {
		return nil, err
	}
	return AbsorbBlocks(r), nil
}

// AbsorbBlocks is Absorb with irradiation taken as even over blocks.
func AbsorbBlocks(r *Received) *Absorbed {
	return absorb(r, func(p int) []float64 { return r.block(r.set.Patches[p].Block) })
}

// exchangeBlocks fills the direct shares of the patches and the whole shares of
// the blocks.
func exchangeBlocks(ctx context.Context, f *Factors, e Emission, workers int) (*Received, *blocks, error) {
	r, err := direct(ctx, f, e, workers)
	if err != nil {
		return nil, nil, err
	}
	b := newBlocks(f, e)
	r.BlockShare, err = b.solve(ctx, r, workers)
	return r, b, err
}

// direct fills the direct shares of the patches.
func direct(ctx context.Context, f *Factors, e Emission, workers int) (*Received, error) {
	r := &Received{Columns: e.Columns + 1, set: f.Set, box: f.Set.Mesh.Box(), emission: e}
	r.Share = make([]float64, len(f.Away)*r.Columns)
	err := geom.Each(ctx, workers, len(f.Away), nil, func(p int) error {
		row := r.Row(p)
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			e.addOwn(row, int(f.To[k]), f.Value[k])
		}
		row[e.Columns] = f.Away[p]
		return nil
	})
	return r, err
}

// add adds weight times from to row. Bare numbers: shares.
func add(row, from []float64, weight float64) {
	from = from[:len(row)]
	for c := range row {
		row[c] += weight * from[c]
	}
}

// Absorbed sums over parts what is absorbed per σT⁴ of every emitter.
type Absorbed struct {
	// FromM2[part][c]: absorbed by the part per σT⁴ of emitter c; the last
	// column is the surroundings.
	FromM2 [][]float64
	// EmitM2[part]: radiated per σT⁴ of the part at one temperature;
	// SecondM2[part]: the same per σT⁴ of its second emitter.
	EmitM2, SecondM2 []float64
}

// Absorb returns what the parts absorb and radiate.
func Absorb(r *Received) *Absorbed { return absorb(r, r.Row) }

// Moved returns what is absorbed in a variation: a, changed by as much as the
// coarse figures change from before to after. Rows keep their sums.
func (a *Absorbed) Moved(before, after *Absorbed) *Absorbed {
	out := &Absorbed{FromM2: make([][]float64, len(a.FromM2)), EmitM2: after.EmitM2, SecondM2: after.SecondM2}
	for i := range a.FromM2 {
		out.FromM2[i] = make([]float64, len(a.FromM2[i]))
		for c, m2 := range a.FromM2[i] {
			out.FromM2[i][c] = m2 + after.FromM2[i][c] - before.FromM2[i][c]
		}
	}
	return out
}

// absorb sums what the parts absorb; rowOf gives what each patch receives.
func absorb(r *Received, rowOf func(p int) []float64) *Absorbed {
	e, set := &r.emission, r.set
	parts := len(set.EdgesMM)
	a := &Absorbed{FromM2: make([][]float64, parts), EmitM2: make([]float64, parts), SecondM2: make([]float64, parts)}
	for i := range parts {
		a.FromM2[i] = make([]float64, r.Columns)
	}
	for p, patch := range set.Patches {
		takesM2 := patch.AreaM2 * e.Emissivity[p]
		a.EmitM2[patch.Part] += takesM2
		if e.Second != nil && e.Second[p] >= 0 {
			a.SecondM2[patch.Part] += takesM2 * e.SecondWeight[p]
		}
		add(a.FromM2[patch.Part], rowOf(p), takesM2)
	}
	return a
}
