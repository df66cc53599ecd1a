package clearance

import "math"

// Verdicts of a pair, worst first.
const (
	Overlap = "overlap" // the solids share space or their surfaces cross
	Short   = "short"   // below the least clearance
	Close   = "close"   // within 20 % or 2 mm above it
	OK      = "ok"
	NoRule  = "no rule"
)

// decisionMM is how far a certified moving figure may be uncertain before its
// low end decides the verdict; exact states are far below it.
const decisionMM = 1e-3

// closeBandMM is how far above the least clearance a pair still counts as close.
func closeBandMM(leastMM float64) float64 { return math.Max(0.2*leastMM, 2) }

// judge returns the verdict and margin of a gap against a rule; rule may be nil.
func judge(gapMM, errorMM float64, overlap bool, rule *Rule) (verdict string, marginMM *float64) {
	if rule == nil {
		if overlap {
			return Overlap, nil
		}
		return NoRule, nil
	}
	margin := gapMM - rule.LeastMM
	lowMM := gapMM
	if errorMM > decisionMM {
		lowMM -= errorMM
	}
	switch {
	case overlap:
		verdict = Overlap
	case lowMM < rule.LeastMM:
		verdict = Short
	case lowMM < rule.LeastMM+closeBandMM(rule.LeastMM):
		verdict = Close
	default:
		verdict = OK
	}
	return verdict, &margin
}

// Rank orders verdicts, worst (0) first.
func Rank(verdict string) int {
	for i, v := range []string{Overlap, Short, Close, OK, NoRule} {
		if v == verdict {
			return i
		}
	}
	return math.MaxInt
}

// Fails reports whether a verdict means that the layout does not fit.
func Fails(verdict string) bool { return verdict == Overlap || verdict == Short }
