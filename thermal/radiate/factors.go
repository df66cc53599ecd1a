package radiate

import (
	"math"

	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// Factors are the view factors between all patches, repaired so that they are
// reciprocal and every row sums to 1. Bare numbers: factors and shares.
type Factors struct {
	Set *patch.Set
	// Row p is To[Start[p]:Start[p+1]] with Value alike: the share of patch
	// p's radiation that reaches patch To[k] first.
	Start []int
	To    []int32
	Value []float64
	// Away[p]: the share that meets nothing and goes to the surroundings.
	Away []float64
	// BuriedShare[p]: the share of patch p that lies inside a solid; it is part
	// of the row's own entry.
	BuriedShare []float64
	// Rays[p]: rays shot.
	Rays []int
	// LargestCorrection is the largest change that the repair made to any
	// factor between two parts, or of a part to the surroundings.
	LargestCorrection float64

	// Traced is how many of the rays were followed; the others were taken over
	// from Options.Prev.
	Traced int

	// Exact is how many pairs of patches have the contour form instead of rays.
	Exact int

	raw     *Table // between parts, as shot
	exact   []bool // exact[k]: Value[k] is by the contour form; nil for none
	hits    [][]int32
	options Options // what was asked, without Prev
	sizeMM  float64
}

// newFactors pools the tallies into reciprocal factors; with a tree, pairs of
// flat patches that see each other whole are exact.
func newFactors(set *patch.Set, tree *bvh.RayTree, tallies []tally) *Factors {
	n := len(tallies)
	f := &Factors{
		Set: set, Start: make([]int, n+1), Away: make([]float64, n),
		BuriedShare: make([]float64, n), Rays: make([]int, n),
	}
	back := transposed(tallies)
	both := 0
	for p := range tallies {
		both += max(len(tallies[p].to), len(back[p]))
	}
	f.To, f.Value = make([]int32, 0, both), make([]float64, 0, both) // few meet another that does not meet them
	for p, t := range tallies {
		f.Rays[p] = t.rays
		f.pool(set, p, tallies, back[p])
		f.Start[p+1] = len(f.To)
		if t.rays > 0 {
			f.Away[p] = float64(t.missed) / float64(t.rays)
			f.BuriedShare[p] = float64(t.buried) / float64(t.rays)
		}
	}
	f.raw = rawTable(set, tallies)
	if tree != nil {
		f.takeExact(tree)
	}
	f.close()
	f.LargestCorrection = largestChange(f.raw, f.Table())
	return f
}

// entry is one counter-hit: patch from met the row's patch count times.
type entry struct{ from, count int32 }

// transposed returns, for every patch, who met it, ascending.
func transposed(tallies []tally) [][]entry {
	back := make([][]entry, len(tallies))
	times, sum := make([]int, len(tallies)), 0 // times[q]: how many patches met q
	for i := range tallies {
		for _, q := range tallies[i].to {
			times[q]++
		}
		sum += len(tallies[i].to)
	}
	all := make([]entry, sum)
	for q, n := range times {
		back[q], all = all[:0:n], all[n:]
	}
	for p, t := range tallies {
		for k, q := range t.to {
			back[q] = append(back[q], entry{int32(p), t.count[k]})
		}
	}
	return back
}

// pool appends row p: hits both ways over rays per area both ways. Each way
// counts with the inverse of its variance, which makes the larger number of
// rays per area weigh more, and makes the row reciprocal.
func (f *Factors) pool(set *patch.Set, p int, tallies []tally, back []entry) {
	t := &tallies[p]
	areaM2 := set.Patches[p].AreaM2
	if t.rays == 0 {
		return
	}
	perM2 := float64(t.rays) / areaM2
	add := func(q, count int32) {
		if count == 0 {
			return
		}
		otherM2 := set.Patches[q].AreaM2
		density := perM2 + float64(tallies[q].rays)/otherM2
		f.To = append(f.To, q)
		f.Value = append(f.Value, float64(count)/density/areaM2)
	}
	i, j := 0, 0
	for i < len(t.to) || j < len(back) {
		switch {
		case j == len(back) || i < len(t.to) && t.to[i] < back[j].from:
			add(t.to[i], t.count[i])
			i++
		case i == len(t.to) || back[j].from < t.to[i]:
			add(back[j].from, back[j].count)
			j++
		default:
			add(t.to[i], t.count[i]+back[j].count)
			i, j = i+1, j+1
		}
	}
}

const (
	// closePasses bounds the passes over all rows.
	closePasses = 100
	// closeEnough is the row error at which the passes end, as a ratio.
	closeEnough = 1e-9
	// overstep is how far each λ is moved beside what its row alone asks for:
	// successive over-relaxation, which for such sums (symmetric once weighed by
	// area, none negative) settles with anything between 0 and 2. In an open bay
	// it takes a third of the passes. Source: D. M. Young, Iterative Solution of
	// Large Linear Systems, 1971, ch. 4 (from memory).
	overstep = 1.3
	// leastKept: no factor is taken below this share of itself, so that none
	// turns negative.
	leastKept = 0.1
)

// close makes every row sum to 1 by the least change, each factor weighed by
// its variance: a factor known by many rays per area hardly moves. The change
// is F·(λp+λq)/(dp+dq) with one λ per patch and d its rays per area, so that
// reciprocity stays; the surroundings have no λ of their own. λ is found by
// over-relaxed Gauss–Seidel passes. Bare numbers: λ counts rays per m².
func (f *Factors) close() {
	n := len(f.Away)
	perM2 := make([]float64, n)
	for p := range n {
		if f.Rays[p] > 0 {
			perM2[p] = float64(f.Rays[p]) / f.Set.Patches[p].AreaM2
		}
	}
	lambda := make([]float64, n)
	c := f.closing(perM2)
	for range closePasses {
		worst := 0.0
		for p := range n {
			if f.Rays[p] > 0 {
				worst = math.Max(worst, c.settle(f, p, lambda))
			}
		}
		if worst < closeEnough {
			break
		}
	}
	f.change(perM2, lambda)
}

// closing is how the sums of the rows go with λ; what stays from pass to pass.
// Bare numbers: factors, by λ.
type closing struct {
	moves    []float64 // moves[k]: of Value[k]
	sum      []float64 // sum[p]: of row p without any λ
	own      []float64 // own[p]: how fast it grows with λp, entry of the row itself as any other
	diagonal []float64 // diagonal[p]: moves of that entry
}

// closing returns how the rows' sums go with λ.
func (f *Factors) closing(perM2 []float64) *closing {
	n := len(f.Away)
	c := &closing{make([]float64, len(f.Value)), make([]float64, n), make([]float64, n), make([]float64, n)}
	for p := range n {
		if f.Rays[p] == 0 {
			continue
		}
		sum, own := f.Away[p], f.Away[p]/perM2[p]
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			q := f.To[k]
			moves := f.Value[k] * f.giveWeight(k) / (perM2[p] + perM2[q])
			c.moves[k] = moves
			sum += f.Value[k]
			own += moves
			if int(q) == p {
				c.diagonal[p] = moves
			}
		}
		c.sum[p], c.own[p] = sum, own
	}
	return c
}

// settle moves λp towards where row p sums to 1, and returns how far it was from that.
// Bare numbers: factors, by λ.
func (c *closing) settle(f *Factors, p int, lambda []float64) (off float64) {
	lacks := 1 - (c.sum[p] + c.own[p]*lambda[p] + gather(c.moves[f.Start[p]:f.Start[p+1]], f.To[f.Start[p]:f.Start[p+1]], lambda))
	if slope := c.own[p] + c.diagonal[p]; slope > 0 { // the own entry counts twice
		lambda[p] += overstep * lacks / slope
	}
	return math.Abs(lacks)
}

// gather returns the sum of weights times the x that they belong to, in four sums
// side by side: none waits for the last. Bare numbers: as they are given.
func gather(weights []float64, of []int32, x []float64) float64 {
	var a, b, c, d float64
	of = of[:len(weights)]
	for len(weights) >= 4 && len(of) >= 4 {
		a += weights[0] * x[of[0]]
		b += weights[1] * x[of[1]]
		c += weights[2] * x[of[2]]
		d += weights[3] * x[of[3]]
		weights, of = weights[4:], of[4:]
	}
	for k, w := range weights {
		a += w * x[of[k]]
	}
	return (a + b) + (c + d)
}

// change applies lambda and takes the last rounding out of each row.
// Bare numbers: factors.
func (f *Factors) change(perM2, lambda []float64) {
	for p := range f.Away {
		if f.Rays[p] == 0 {
			continue
		}
		f.Away[p] *= math.Max(leastKept, 1+lambda[p]/perM2[p])
		sum := f.Away[p]
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			q := f.To[k]
			f.Value[k] *= math.Max(leastKept, 1+f.giveWeight(k)*(lambda[p]+lambda[q])/(perM2[p]+perM2[q]))
			sum += f.Value[k]
		}
		f.Away[p] /= sum
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			f.Value[k] /= sum
		}
	}
}
