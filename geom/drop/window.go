package drop

import (
	"context"
	"math"
)

const (
	// bracketMM is how exactly an end of a window is found.
	bracketMM = 0.001
	// leastStepMM keeps the walk from creeping along parts that slide past each
	// other at their exact limit: a shortfall of less than half of it can pass.
	leastStepMM = 0.05
	// blindStepMM is the step through drops that do not fit anyway: a window
	// narrower than this between two overlaps can be missed.
	blindStepMM = 0.5
)

// Window is a closed range of drops.
type Window [2]float64

// Meet returns the drops that both lists of windows hold.
func Meet(a, b []Window) []Window {
	var out []Window
	for _, x := range a {
		for _, y := range b {
			if lo, hi := math.Max(x[0], y[0]), math.Min(x[1], y[1]); lo <= hi {
				out = append(out, Window{lo, hi})
			}
		}
	}
	return out
}

// clip returns the part of the window within the range, none if they miss.
func clip(w Window, within Window) []Window { return Meet([]Window{w}, []Window{within}) }

// clipAll returns the parts of the windows within the range.
func clipAll(windows []Window, within Window) []Window { return Meet(windows, []Window{within}) }

// scan returns the drops of a range at which something holds: all changes
// between neighbouring samples are bisected, however many there are.
func scan(within Window, holds func(dropMM float64) bool) []Window {
	var out []Window
	lastMM, inside := within[0], holds(within[0])
	if inside {
		out = append(out, within)
	}
	for _, atMM := range samples(within)[1:] {
		if now := holds(atMM); now != inside {
			inMM, outMM := lastMM, atMM
			if now {
				inMM, outMM = atMM, lastMM
			}
			for math.Abs(inMM-outMM) > bracketMM {
				if mid := (inMM + outMM) / 2; holds(mid) {
					inMM = mid
				} else {
					outMM = mid
				}
			}
			if now {
				out = append(out, Window{inMM, within[1]})
			} else {
				out[len(out)-1][1] = inMM
			}
			inside = now
		}
		lastMM = atMM
	}
	return out
}

// Margin returns by how much a limit holds at a drop; it may answer any
// value of at least enoughMM once the margin is known to reach that. It must
// change by at most 1 mm for each mm of drop.
type Margin func(ctx context.Context, dropMM, enoughMM float64) (float64, error)

// Walk returns the windows of the range in which the margin is not negative,
// their ends within 0.001 mm and on the side that holds.
//
// Errors: those of margin, and of ctx.
func Walk(ctx context.Context, within Window, margin Margin) ([]Window, error) {
	var out []Window
	atMM, lastMM := within[0], within[0]
	inside := false
	for {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		leftMM := within[1] - atMM
		m, err := margin(ctx, atMM, leftMM)
		if err != nil {
			return nil, err
		}
		holds := m >= 0
		if holds != inside {
			edgeMM := atMM
			if atMM > within[0] {
				if edgeMM, err = bisect(ctx, lastMM, atMM, holds, margin); err != nil {
					return nil, err
				}
			}
			if holds {
				out = append(out, Window{edgeMM, within[1]})
			} else {
				out[len(out)-1][1] = edgeMM
			}
			inside = holds
		}
		if leftMM <= 0 || holds && m >= leftMM {
			return out, nil
		}
		lastMM = atMM
		atMM = math.Min(within[1], atMM+stepMM(m))
	}
}

// stepMM is how far the walk may go without missing a change. A margin of −Inf
// is an overlap, which says nothing of how long it lasts.
func stepMM(marginMM float64) float64 {
	if marginMM >= 0 {
		return math.Max(marginMM, leastStepMM)
	}
	if math.IsInf(marginMM, -1) {
		return blindStepMM
	}
	return math.Max(-marginMM, blindStepMM)
}

// bisect finds the drop between lo and hi where the margin changes sign and
// returns the end of the bracket at which the limit still holds. holdsAtHi says
// which side that is.
func bisect(ctx context.Context, loMM, hiMM float64, holdsAtHi bool, margin Margin) (float64, error) {
	for hiMM-loMM > bracketMM {
		midMM := loMM + (hiMM-loMM)/2
		m, err := margin(ctx, midMM, 0)
		if err != nil {
			return 0, err
		}
		if (m >= 0) == holdsAtHi {
			hiMM = midMM
		} else {
			loMM = midMM
		}
	}
	if holdsAtHi {
		return hiMM, nil
	}
	return loMM, nil
}
