package rearview

import (
	"fmt"
	"strings"

	"aftbay/geom/units"
)

// What makes a rule that is met close. Source: the same figures as for
// clearances, common practice, no source.
const (
	closeUsedShare = 0.8
	closeMM        = 2.0
)

// judge says whether the rule is met, and why not.
func (a *Answer) judge(f *field) {
	a.Required = Required{Rule: f.rule, LeastShare: f.leastShare, ruleText: f.text, Reasons: []string{}}
	q := &a.Required
	if f.rule == RuleUS {
		q.Reasons = a.usReasons(f)
	} else if a.Seen.EitherShare < f.leastShare-nothingShare {
		q.Reasons = append(q.Reasons, fmt.Sprintf("%s of the field is seen by either eye, %s is asked for", percent(a.Seen.EitherShare), percent(f.leastShare)))
	}
	q.Met = len(q.Reasons) == 0
	switch {
	case q.Met:
	case a.LostToMirrorShare > 1-nothingShare:
		q.Reasons = append(q.Reasons, "the mirror shows none of the field: check where it stands and how it is aimed")
	case a.LostToMirrorShare+a.LostToGlassShare > 1-nothingShare:
		q.Reasons = append(q.Reasons, "the view through the mirror misses the glass: check the corners of the glass and the aim")
	}
	q.Verdict = Short
	if q.Met {
		q.Verdict = OK
		if allowance := 1 - f.leastShare; allowance > 0 && 1-a.Seen.EitherShare > closeUsedShare*allowance || a.leastMarginMM() < closeMM {
			q.Verdict = Close
		}
	}
	q.Sentence = a.sentence()
}

func (a *Answer) usReasons(f *field) []string {
	out := []string{}
	if a.ClearAngleDeg < usAngleDeg-1e-9 {
		out = append(out, fmt.Sprintf("the view is %.2f° wide, 20° is asked for", a.ClearAngleDeg))
	}
	needMM := f.nearXMM - f.eyeXMM
	switch {
	case a.middleUnbrokenMM == nil:
		out = append(out, "the horizon is not seen on the centre line")
	case *a.middleUnbrokenMM > needMM+1e-6:
		out = append(out, fmt.Sprintf("the road is seen from %s behind the eyes on, %s is asked for", metres(*a.middleUnbrokenMM), metres(needMM)))
	}
	if a.hiddenMiddleShare > 0 {
		out = append(out, fmt.Sprintf("parts hide %s of the 20° of road from the eye point", percent(a.hiddenMiddleShare)))
	}
	return out
}

// leastMarginMM returns how near the nearest part is to the allowance.
func (a *Answer) leastMarginMM() float64 {
	least := 1e9
	for _, h := range a.HighestAllowedMM {
		if h.AllowanceMarginMM != nil {
			least = min(least, *h.AllowanceMarginMM)
		}
	}
	return least
}

// sentence says it in one line.
func (a *Answer) sentence() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s of the road is seen by either eye", a.Required.Rule, percent(a.Seen.EitherShare))
	if len(a.LostBy) > 0 {
		l := a.LostBy[0]
		fmt.Fprintf(&b, "; %s takes %s", l.Part, percent(l.Share))
		if a.Required.Rule == RuleUS && a.hiddenMiddleShare == 0 {
			b.WriteString(", nothing from the point between the eyes, from which the rule is judged,")
		}
		if h, ok := a.HighestAllowedMM[l.Part]; ok {
			switch {
			case h.AllowanceMarginMM != nil && *h.AllowanceMarginMM < 0:
				fmt.Fprintf(&b, " and must go down by %s", units.FormatMM(-*h.AllowanceMarginMM))
			case h.AllowanceMarginMM != nil:
				fmt.Fprintf(&b, " and may rise by %s more", units.FormatMM(*h.AllowanceMarginMM))
			}
		}
	} else if a.Required.Rule == RuleUS && a.hiddenMiddleShare > 0 {
		b.WriteString("; what parts hide from the eye point, one eye or the other sees")
	} else if next := a.Next(); len(next) > 0 {
		fmt.Fprintf(&b, "; no part hides any of it, %s may rise by %s before it does", next[0], units.FormatMM(*a.HighestAllowedMM[next[0]].NoLossMarginMM))
	} else {
		b.WriteString("; no part stands in the view")
	}
	if len(a.Required.Reasons) > 0 {
		fmt.Fprintf(&b, ". Not met: %s", strings.Join(a.Required.Reasons, "; "))
	}
	return b.String() + "."
}

// percent writes a share so that a millimetre at a crest shows.
func percent(share float64) string { return fmt.Sprintf("%.2f %%", 100*share) }

func metres(valueMM float64) string { return fmt.Sprintf("%.2f m", valueMM/1000) }
