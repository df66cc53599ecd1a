package outcome

import (
	"slices"

	"aftbay/geom/rearview"
	"aftbay/geom/say"
)

// CompareSight compares what is seen in two states, by the rule that the new
// one asks for; nil where the old one does not answer it.
func CompareSight(old, now *rearview.Result) *Sight {
	before := ruleOf(old, now.Required.Rule)
	if before == nil {
		return nil
	}
	n := &now.Answer
	s := &Sight{
		ThresholdShare: ThresholdShare, Rule: n.Required.Rule, BeforeShare: before.Seen.EitherShare, NowShare: n.Seen.EitherShare,
		Was: before.Required.Verdict, Verdict: n.Required.Verdict, Figures: []Figure{},
	}
	byShare := s.NowShare - s.BeforeShare
	fails, failed := !n.Required.Met || aheadFails(now), !before.Required.Met || aheadFails(old)
	switch {
	case fails && !failed:
		s.Change = New
	case failed && !fails:
		s.Change = Cured
	case byShare < -ThresholdShare || s.Verdict == rearview.Close && s.Was == rearview.OK:
		s.Change = Worse
	case byShare > ThresholdShare || s.Verdict == rearview.OK && s.Was == rearview.Close:
		s.Change = Better
	default:
		s.Change = Same
	}
	s.figures(before, n)
	if old.Forward != nil && now.Forward != nil {
		a, b := 100*old.Forward.Seen.EitherShare, 100*now.Forward.Seen.EitherShare
		if differs(&a, &b, 100*ThresholdShare) {
			s.Figures = append(s.Figures, Figure{What: say.Of("of the target ahead"), Unit: "%", Before: &a, Now: &b})
		}
	}
	s.Sentence = say.F("Rear view, %s: %.2f %% of the road seen, before %.2f %%", s.Rule, 100*s.NowShare, 100*s.BeforeShare)
	if s.Change == Same && len(s.Figures) == 0 {
		s.Sentence = say.F("Rear view, %s: %.2f %% of the road seen, as before", s.Rule, 100*s.NowShare)
	}
	if s.Was != s.Verdict {
		s.Sentence = say.F("%s; now %s, before %s", s.Sentence, say.Word(s.Verdict), say.Word(s.Was))
	}
	s.Sentence = say.F("%s.", s.Sentence)
	return s
}

// aheadFails reports whether a view ahead is asked for and not met.
func aheadFails(r *rearview.Result) bool { return r.Forward != nil && !r.Forward.Met }

// ruleOf finds the answer to a rule.
func ruleOf(r *rearview.Result, rule string) *rearview.Answer {
	if r.Required.Rule == rule {
		return &r.Answer
	}
	for i := range r.Rules {
		if r.Rules[i].Required.Rule == rule {
			return &r.Rules[i]
		}
	}
	return nil
}

// figures notes each number that changed: shares, the nearest road, and how far
// each part may rise.
func (s *Sight) figures(before, now *rearview.Answer) {
	add := func(what say.Text, unit string, a, b *float64, threshold float64) { // Bare numbers: in the unit
		if differs(a, b, threshold) {
			s.Figures = append(s.Figures, Figure{What: what, Unit: unit, Before: a, Now: b})
		}
	}
	percent := func(share float64) *float64 {
		v := 100 * share
		return &v
	}
	for _, eye := range []struct {
		what               say.Text
		beforeShare, share float64
	}{
		{say.Of("seen by either eye"), before.Seen.EitherShare, now.Seen.EitherShare},
		{say.Of("seen by the left eye"), before.Seen.LeftShare, now.Seen.LeftShare},
		{say.Of("seen by the right eye"), before.Seen.RightShare, now.Seen.RightShare},
		{say.Of("seen by both eyes"), before.Seen.BothShare, now.Seen.BothShare},
	} {
		add(eye.what, "%", percent(eye.beforeShare), percent(eye.share), 100*ThresholdShare)
	}
	add(say.Of("nearest road seen, behind the eyes"), "mm", before.NearestRoadMM, now.NearestRoadMM, ThresholdMM)
	var names []string
	for name := range before.HighestAllowedMM {
		names = append(names, name)
	}
	for name := range now.HighestAllowedMM {
		if _, both := before.HighestAllowedMM[name]; !both {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		a, b := before.HighestAllowedMM[name], now.HighestAllowedMM[name]
		add(say.F("%s may rise before it hides", name), "mm", a.NoLossMarginMM, b.NoLossMarginMM, ThresholdMM)
	}
}
