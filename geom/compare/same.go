package compare

import (
	"fmt"
	"slices"
	"strings"

	"aftbay/geom/clearance"
)

// boundBy reports whether something that every pair may depend on differs: the
// rules or a group.
func boundBy(r *Result) bool {
	return slices.ContainsFunc(r.Settings, func(s Setting) bool {
		return s.Where == "rules" || strings.HasPrefix(s.Where, "group ")
	})
}

// untouched reports whether nothing of a pair's parts differs.
func untouched(n *clearance.Pair, kept map[string]stays, r *Result) bool {
	for _, name := range []string{n.A, n.B} {
		s, ok := kept[name]
		if !ok || !s.shape || !s.place {
			return false
		}
		if slices.ContainsFunc(r.Settings, func(set Setting) bool {
			return strings.HasPrefix(set.Where, fmt.Sprintf("part %q:", name)) || strings.HasPrefix(set.Where, fmt.Sprintf("route %q:", name))
		}) {
			return false
		}
	}
	return true
}

// identical reports whether two answers have the same figures to the last digit.
func identical(b, n *clearance.Pair) bool {
	return b.Verdict == n.Verdict && b.Overlap == n.Overlap && b.ClearanceMM == n.ClearanceMM && b.ErrorMM == n.ErrorMM &&
		b.StaticMM == n.StaticMM && b.GrowthMM == n.GrowthMM && b.ToleranceMM == n.ToleranceMM &&
		b.PointA == n.PointA && b.PointB == n.PointB &&
		equal(b.LeastMM, n.LeastMM) && equal(b.MarginMM, n.MarginMM) && equal(b.ClearanceRSSMM, n.ClearanceRSSMM) &&
		equal(b.OverlapVolumeMM3, n.OverlapVolumeMM3)
}

// equal compares two figures of which either may lack.
func equal(a, b *float64) bool { // Bare numbers: of whatever unit
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}
