package radiate

import (
	"math"

	"aftbay/thermal/patch"
)

// Table holds the view factors between whole parts, row by row, from the
// outside of sheets and all of solids. Bare numbers: factors.
type Table struct {
	Parts int
	// Factor[from][to]; column Parts stands for the surroundings. A row of a
	// part without patches is all 0.
	Factor [][]float64
	// StandardError[from][to] of the rays as shot.
	StandardError [][]float64
}

func newTable(parts int) *Table {
	t := &Table{Parts: parts, Factor: make([][]float64, parts), StandardError: make([][]float64, parts)}
	for i := range parts {
		t.Factor[i], t.StandardError[i] = make([]float64, parts+1), make([]float64, parts+1)
	}
	return t
}

// shares returns each patch's share of its part's sending area: outer sides
// only. Bare numbers: shares.
func shares(set *patch.Set) []float64 {
	areasM2 := make([]float64, len(set.EdgesMM))
	for _, p := range set.Patches {
		if !p.Inner {
			areasM2[p.Part] += p.AreaM2
		}
	}
	out := make([]float64, len(set.Patches))
	for i, p := range set.Patches {
		if !p.Inner && areasM2[p.Part] > 0 {
			out[i] = p.AreaM2 / areasM2[p.Part]
		}
	}
	return out
}

// Table returns the repaired factors between whole parts. The standard errors
// are those of independent rays: sqrt(F(1−F)/N) per patch, which the spread of
// the low-discrepancy points stays below.
func (f *Factors) Table() *Table {
	t := newTable(len(f.Set.EdgesMM))
	row := make([]float64, t.Parts+1)
	for p, share := range shares(f.Set) {
		if share == 0 {
			continue
		}
		clear(row)
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			row[f.Set.Patches[f.To[k]].Part] += f.Value[k]
		}
		row[t.Parts] = f.Away[p]
		part := f.Set.Patches[p].Part
		for j, factor := range row {
			t.Factor[part][j] += share * factor
		}
	}
	if f.raw != nil {
		t.StandardError = f.raw.StandardError
	}
	return t
}

// rawTable returns the factors between whole parts as they were shot, before
// any repair, with their standard errors.
func rawTable(set *patch.Set, tallies []tally) *Table {
	t := newTable(len(set.EdgesMM))
	row := make([]float64, t.Parts+1)
	for p, share := range shares(set) {
		n := float64(tallies[p].rays)
		if share == 0 || n == 0 {
			continue
		}
		clear(row)
		for k, q := range tallies[p].to {
			row[set.Patches[q].Part] += float64(tallies[p].count[k]) / n
		}
		row[t.Parts] = float64(tallies[p].missed) / n
		part := set.Patches[p].Part
		for j, factor := range row {
			t.Factor[part][j] += share * factor
			t.StandardError[part][j] += share * share * factor * (1 - factor) / n
		}
	}
	for i := range t.StandardError {
		for j, square := range t.StandardError[i] {
			t.StandardError[i][j] = math.Sqrt(math.Max(square, 0))
		}
	}
	return t
}

// largestChange returns the largest difference of two tables.
func largestChange(a, b *Table) float64 {
	worst := 0.0
	for i := range a.Factor {
		for j := range a.Factor[i] {
			worst = math.Max(worst, math.Abs(a.Factor[i][j]-b.Factor[i][j]))
		}
	}
	return worst
}
