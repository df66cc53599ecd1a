package outcome

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom/drop"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// CompareDrop compares the windows of two states. Worse is a window that ends
// sooner or begins later, or a graver verdict; a window that gained at one end
// and lost at the other is worse.
func CompareDrop(old, now *drop.Result) *Drop {
	d := &Drop{
		ThresholdMM: ThresholdMM, BeforeMM: window(old.WindowMM), NowMM: window(now.WindowMM),
		StopBefore: stop(old.Binding.High), StopNow: stop(now.Binding.High), Was: old.Verdict, Verdict: now.Verdict, Limits: []Figure{},
	}
	fails, failed := now.Verdict == drop.Short, old.Verdict == drop.Short
	less, more := windowChange(d.BeforeMM, d.NowMM)
	switch {
	case fails && !failed:
		d.Change = New
	case failed && !fails:
		d.Change = Cured
	case less || now.Verdict == drop.Close && old.Verdict == drop.OK:
		d.Change = Worse
	case more || now.Verdict == drop.OK && old.Verdict == drop.Close:
		d.Change = Better
	default:
		d.Change = Same
	}
	d.limits(old, now)
	slices.SortStableFunc(d.Limits, func(a, b Figure) int { return cmp.Compare(lower(a), lower(b)) })
	d.Sentence = dropSentence(d)
	return d
}

// limits lists those whose largest or smallest drop moved, that came or went; of the last two
// those alone that are met within the range.
func (d *Drop) limits(old, now *drop.Result) {
	before := map[string]*drop.Limit{}
	for i := range old.Limits {
		before[old.Limits[i].Name.String()] = &old.Limits[i]
	}
	for i := range now.Limits {
		l := &now.Limits[i]
		switch was := before[l.Name.String()]; {
		case was == nil && l.Reached:
			d.Limits = append(d.Limits, Figure{What: say.F("%s (new)", l.Name), Unit: "mm", Now: l.MostMM})
		case was != nil && differs(was.MostMM, l.MostMM, ThresholdMM):
			d.Limits = append(d.Limits, Figure{What: l.Name, Unit: "mm", Before: was.MostMM, Now: l.MostMM})
		}
		if was := before[l.Name.String()]; was != nil && differs(least(was), least(l), ThresholdMM) {
			d.Limits = append(d.Limits, Figure{What: say.F("%s, holds from", l.Name), Unit: "mm", Before: least(was), Now: least(l)})
		}
		delete(before, l.Name.String())
	}
	for i := range old.Limits {
		if l := before[old.Limits[i].Name.String()]; l != nil && l.Reached {
			d.Limits = append(d.Limits, Figure{What: say.F("%s (gone)", l.Name), Unit: "mm", Before: l.MostMM})
		}
	}
}

// least is the smallest drop at which a limit holds; nil where none does.
func least(l *drop.Limit) *float64 {
	if len(l.WindowsMM) == 0 {
		return nil
	}
	return &l.WindowsMM[0][0]
}

// lower is the lower of a figure's two values: how soon the limit bound, or binds.
func lower(f Figure) float64 { // Bare numbers: in the figure's unit
	low := math.Inf(1)
	for _, v := range []*float64{f.Before, f.Now} {
		if v != nil {
			low = min(low, *v)
		}
	}
	return low
}

// windowChange says at which ends the group can go less far, and at which more.
func windowChange(before, now *Window) (less, more bool) {
	switch {
	case before == nil && now == nil:
		return false, false
	case now == nil:
		return true, false
	case before == nil:
		return false, true
	}
	return now[1] < before[1]-ThresholdMM || now[0] > before[0]+ThresholdMM, now[1] > before[1]+ThresholdMM || now[0] < before[0]-ThresholdMM
}

func dropSentence(d *Drop) say.Text {
	now, before := windowWords(d.NowMM), windowWords(d.BeforeMM)
	switch {
	case d.Change == Same && len(d.Limits) == 0:
		return say.F("Drop: %s, as before.", now)
	case d.StopNow.String() != d.StopBefore.String():
		return say.F("Drop: %s; before %s. Now stopped by %s, before by %s.", now, before, orRange(d.StopNow), orRange(d.StopBefore))
	}
	return say.F("Drop: %s; before %s.", now, before)
}

func orRange(limit say.Text) say.Text {
	if limit.IsZero() {
		return say.Of("the end of the range")
	}
	return limit
}

func windowWords(w *Window) say.Text {
	if w == nil {
		return say.Of("no drop meets every limit")
	}
	return say.F("%s to %s", units.NumberMM(w[0]), units.FormatMM(w[1]))
}

func window(w *drop.Window) *Window {
	if w == nil {
		return nil
	}
	return &Window{w[0], w[1]}
}

func stop(s *drop.Stop) say.Text {
	if s == nil {
		return say.Text{}
	}
	return s.Limit
}

// differs reports whether two figures are further apart than a threshold.
func differs(a, b *float64, threshold float64) bool { // Bare numbers: of one unit
	if a == nil || b == nil {
		return (a == nil) != (b == nil)
	}
	return math.Abs(*a-*b) > threshold
}
