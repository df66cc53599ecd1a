package dist

import "math"

// mostTurns is how many turns of both bodies together a sweep may hold.
const mostTurns = 6

// bend is a polynomial of second degree in how far each turn of a sweep has
// gone, -1..1: first the constant, then one number for each turn, then the
// products of turn 0 with 0, 1, 2, ..., of turn 1 with 1, 2, ... In mm.
type bend [1 + mostTurns + mostTurns*(mostTurns+1)/2]float64

// spread is how far each turn has gone, as a share of its largest angle.
type spread [mostTurns]float64

// bendTerms returns how many numbers of a bend count turns need.
func bendTerms(turns int) int { return 1 + turns + turns*(turns+1)/2 }

// least returns a lower bound of the polynomial over all turns of size at most 1,
// and where about it is reached. It is the least itself where the slope along
// each turn keeps its sign.
//
// A turn whose slope keeps its sign whatever the others do is put at its end
// first; each one put there narrows the slopes of the others. What is then left
// is bounded turn by turn, with the products of two of them at their worst.
func (b *bend) least(turns int) (leastMM float64, at spread) {
	leastMM = b[0]
	var slope [mostTurns]float64
	copy(slope[:turns], b[1:1+turns])
	open := 1<<turns - 1
	for again := true; again && open != 0; {
		again = false
		for i := range turns {
			if open>>i&1 == 0 || math.Abs(slope[i]) < b.slopeMM(i, turns, open) {
				continue
			}
			again = true
			open &^= 1 << i
			at[i] = -math.Copysign(1, slope[i])
			leastMM += at[i]*slope[i] + b[b.term(i, i, turns)]
			for j := range turns {
				if open>>j&1 == 1 {
					slope[j] += at[i] * b[b.term(i, j, turns)]
				}
			}
		}
	}
	for i := range turns {
		if open>>i&1 == 0 {
			continue
		}
		at[i] = -math.Copysign(1, slope[i])
		if square := b[b.term(i, i, turns)]; math.Abs(slope[i]) < 2*square {
			at[i] = -slope[i] / (2 * square)
			leastMM -= slope[i] * slope[i] / (4 * square)
		} else {
			leastMM += square - math.Abs(slope[i])
		}
		for j := i + 1; j < turns; j++ {
			if open>>j&1 == 1 {
				leastMM -= math.Abs(b[b.term(i, j, turns)])
			}
		}
	}
	return leastMM, at
}

// slopeMM returns how much the slope along turn i can change over the turns that
// are open.
func (b *bend) slopeMM(i, turns, open int) float64 {
	sumMM := 2 * math.Abs(b[b.term(i, i, turns)])
	for j := range turns {
		if j != i && open>>j&1 == 1 {
			sumMM += math.Abs(b[b.term(i, j, turns)])
		}
	}
	return sumMM
}

// term returns where the product of turns i and j stands.
func (*bend) term(i, j, turns int) int {
	if i > j {
		i, j = j, i
	}
	return 1 + turns + i*turns - i*(i-1)/2 + j - i
}
