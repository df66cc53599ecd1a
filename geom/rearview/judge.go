package rearview

import (
	"fmt"

	"aftbay/geom/say"
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
	a.Required = Required{Rule: f.rule, LeastShare: f.leastShare, ruleText: f.text, Reasons: []say.Text{}}
	q := &a.Required
	if f.rule == RuleUS {
		q.Reasons = a.usReasons(f)
	} else if a.Seen.EitherShare < f.leastShare-nothingShare {
		q.Reasons = append(q.Reasons, say.F("%s of the field is seen by either eye, %s is asked for", percent(a.Seen.EitherShare), percent(f.leastShare)))
	}
	q.Met = len(q.Reasons) == 0
	switch {
	case q.Met:
	case a.LostToMirrorShare > 1-nothingShare:
		q.Reasons = append(q.Reasons, say.Of("the mirror shows none of the field: check where it stands and how it is aimed"))
	case a.LostToMirrorShare+a.LostToGlassShare > 1-nothingShare:
		q.Reasons = append(q.Reasons, say.Of("the view through the mirror misses the glass: check the corners of the glass and the aim"))
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

func (a *Answer) usReasons(f *field) []say.Text {
	out := []say.Text{}
	if a.ClearAngleDeg < usAngleDeg-1e-9 {
		out = append(out, say.F("the view is %.2f° wide, 20° is asked for", a.ClearAngleDeg))
	}
	needMM := f.nearXMM - f.eyeXMM
	switch {
	case a.middleUnbrokenMM == nil:
		out = append(out, say.Of("the horizon is not seen on the centre line"))
	case *a.middleUnbrokenMM > needMM+1e-6:
		out = append(out, say.F("the road is seen from %s behind the eyes on, %s is asked for", metres(*a.middleUnbrokenMM), metres(needMM)))
	}
	if a.hiddenMiddleShare > 0 {
		out = append(out, say.F("parts hide %s of the 20° of road from the eye point", percent(a.hiddenMiddleShare)))
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
func (a *Answer) sentence() say.Text {
	text := say.F("%s: %s of the road is seen by either eye", a.Required.Rule, percent(a.Seen.EitherShare))
	us := a.Required.Rule == RuleUS
	next := a.Next()
	switch {
	case len(a.LostBy) > 0:
		text = a.lostSentence(text, us && a.hiddenMiddleShare == 0)
	case us && a.hiddenMiddleShare > 0:
		text = say.F("%s; what parts hide from the eye point, one eye or the other sees", text)
	case len(next) > 0:
		text = say.F("%s; no part hides any of it, %s may rise by %s before it does", text, next[0], units.FormatMM(*a.HighestAllowedMM[next[0]].NoLossMarginMM))
	default:
		text = say.F("%s; no part stands in the view", text)
	}
	if len(a.Required.Reasons) > 0 {
		text = say.F("%s. Not met: %s", text, say.Join(a.Required.Reasons, "; "))
	}
	return say.F("%s.", text)
}

// lostSentence adds what takes most of the road, and how much lower it must be.
func (a *Answer) lostSentence(text say.Text, middleFree bool) say.Text {
	l := a.LostBy[0]
	text = say.F("%s; %s takes %s", text, l.Part, percent(l.Share))
	if middleFree {
		text = say.F("%s, nothing from the point between the eyes, from which the rule is judged,", text)
	}
	if h, ok := a.HighestAllowedMM[l.Part]; ok && h.AllowanceMarginMM != nil {
		if *h.AllowanceMarginMM < 0 {
			return say.F("%s and must go down by %s", text, units.FormatMM(-*h.AllowanceMarginMM))
		}
		return say.F("%s and may rise by %s more", text, units.FormatMM(*h.AllowanceMarginMM))
	}
	return text
}

// percent writes a share so that a millimetre at a crest shows.
func percent(share float64) string { return fmt.Sprintf("%.2f %%", 100*share) }

func metres(valueMM float64) string { return fmt.Sprintf("%.2f m", valueMM/1000) }
