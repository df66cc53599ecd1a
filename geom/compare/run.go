package compare

import (
	"context"
	"math"
	"slices"

	"aftbay/geom/clearance"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// Side is one of the two states: what it is called, its scene and its answers.
type Side struct {
	Name  string
	Scene *scene.Scene
	Fit   *clearance.Result
}

// Options steer Run. The zero value takes the default threshold.
type Options struct {
	ThresholdMM float64 // 0: DefaultThresholdMM
}

// Run compares two states. Cost: a look through both lists of findings; each
// part with another surface costs thousands of nearest-point searches.
func Run(ctx context.Context, old, now Side, o Options) (*Result, error) {
	if o.ThresholdMM == 0 {
		o.ThresholdMM = DefaultThresholdMM
	}
	r := empty(old.Name, now.Name)
	r.Findings.ThresholdMM = o.ThresholdMM
	kept, err := compareParts(ctx, old.Scene, now.Scene, r)
	if err != nil {
		return nil, err
	}
	list, err := settings(old.Scene.Doc, now.Scene.Doc)
	if err != nil {
		return nil, err
	}
	r.Settings = append(append(r.Settings, list...), tables(old.Scene, now.Scene)...)
	compareFindings(old, now, kept, r)
	r.Sentence = sentence(r)
	return r, nil
}

// empty returns a result with lists that are empty, not null.
func empty(old, now string) *Result {
	return &Result{
		Old: old, New: now, Settings: []Setting{},
		Parts:    Parts{Added: []Part{}, Removed: []Part{}, Moved: []Move{}, Reshaped: []Reshape{}, Rewritten: []string{}},
		Findings: Findings{New: []Finding{}, Cured: []Finding{}, Worse: []Finding{}, Better: []Finding{}, Drifted: []string{}},
	}
}

// compareFindings goes through the pairs of both states, the most pressing of
// now first, then those that are gone.
func compareFindings(old, now Side, kept map[string]stays, r *Result) {
	before := map[string]*clearance.Pair{}
	for i := range old.Fit.Pairs {
		before[old.Fit.Pairs[i].ID] = &old.Fit.Pairs[i]
	}
	bound := boundBy(r)
	for _, n := range pressing(now.Fit) {
		b := before[n.ID]
		delete(before, n.ID)
		if b != nil && !bound && untouched(n, kept, r) {
			r.Findings.Unchanged++
			if identical(b, n) {
				r.Findings.Identical++
			} else {
				r.Findings.Drifted = append(r.Findings.Drifted, n.ID)
			}
		}
		r.sort(b, n)
	}
	for _, b := range pressing(old.Fit) {
		if before[b.ID] != nil {
			r.sort(b, nil)
		}
	}
	for _, list := range [][]Finding{r.Findings.New, r.Findings.Cured, r.Findings.Worse, r.Findings.Better} {
		for i := range list {
			list[i].Why = reason(&list[i], r)
		}
	}
}

// pressing returns the pairs, the most pressing first.
func pressing(r *clearance.Result) []*clearance.Pair {
	out := make([]*clearance.Pair, len(r.Pairs))
	for i := range r.Pairs {
		out[i] = &r.Pairs[i]
	}
	slices.SortStableFunc(out, func(a, b *clearance.Pair) int {
		switch {
		case clearance.Worse(a, b):
			return -1
		case clearance.Worse(b, a):
			return 1
		}
		return 0
	})
	return out
}

// sort puts one pair where it belongs; before or now may be nil, not both.
func (r *Result) sort(before, now *clearance.Pair) {
	f := &r.Findings
	row := rowOf(before, now)
	fails, failed := now != nil && clearance.Fails(now.Verdict), before != nil && clearance.Fails(before.Verdict)
	switch {
	case fails && !failed:
		f.New = append(f.New, row)
	case failed && !fails:
		f.Cured = append(f.Cured, row)
	case now == nil:
		f.Gone++
	case before == nil:
		f.Came++
	case !presses(before.Verdict) && !presses(now.Verdict):
		if before.Verdict == now.Verdict && math.Abs(*row.ByMM) <= f.ThresholdMM {
			f.Same++
		} else {
			f.Spare++
		}
	case clearance.Rank(now.Verdict) < clearance.Rank(before.Verdict) || *row.ByMM < -f.ThresholdMM:
		f.Worse = append(f.Worse, row)
	case clearance.Rank(now.Verdict) > clearance.Rank(before.Verdict) || *row.ByMM > f.ThresholdMM:
		f.Better = append(f.Better, row)
	default:
		f.Same++
	}
}

// presses reports whether a verdict fails or nearly does.
func presses(verdict string) bool { return clearance.Fails(verdict) || verdict == clearance.Close }

func rowOf(before, now *clearance.Pair) Finding {
	f := Finding{}
	if before != nil {
		f.ID, f.A, f.B, f.State = before.ID, before.A, before.B, before.State
		f.BeforeMM, f.LeastBeforeMM, f.Was = &before.ClearanceMM, before.LeastMM, before.Verdict
	}
	if now != nil {
		f.ID, f.A, f.B, f.State = now.ID, now.A, now.B, now.State
		f.NowMM, f.LeastNowMM, f.Verdict = &now.ClearanceMM, now.LeastMM, now.Verdict
	}
	if before == nil || now == nil {
		return f
	}
	by := now.ClearanceMM - before.ClearanceMM
	if before.MarginMM != nil && now.MarginMM != nil {
		by = *now.MarginMM - *before.MarginMM
	}
	f.ByMM = &by
	return f
}

// reason says of a finding which of its parts changed.
func reason(f *Finding, r *Result) say.Text {
	for _, name := range []string{f.A, f.B} {
		if slices.ContainsFunc(r.Parts.Removed, func(p Part) bool { return p.Name == name }) {
			return say.F("%s is gone", name)
		}
		if slices.ContainsFunc(r.Parts.Added, func(p Part) bool { return p.Name == name }) {
			return say.F("%s is new", name)
		}
	}
	var why []say.Text
	for _, name := range []string{f.A, f.B} {
		for i := range r.Parts.Moved {
			if m := &r.Parts.Moved[i]; m.Name == name {
				why = append(why, say.F("%s moved by up to %.2f mm", name, m.MostMM))
			}
		}
		for i := range r.Parts.Reshaped {
			if s := &r.Parts.Reshaped[i]; s.Name == name {
				why = append(why, say.F("%s reshaped by up to %.2f mm", name, s.DeviationMM))
			}
		}
	}
	if f.LeastBeforeMM != nil && f.LeastNowMM != nil && *f.LeastBeforeMM != *f.LeastNowMM {
		why = append(why, say.F("asked %g mm, before %g mm", *f.LeastNowMM, *f.LeastBeforeMM))
	}
	return say.Join(why, "; ")
}

// sentence sums the result up.
func sentence(r *Result) say.Text {
	if r.Nothing() {
		return say.F("Nothing changed from %s to %s.", r.Old, r.New)
	}
	p, f := &r.Parts, &r.Findings
	return say.F("From %s to %s: findings %d new, %d cured, %d worse, %d better, %d the same; parts %d added, %d removed, %d moved, %d reshaped.",
		r.Old, r.New, len(f.New), len(f.Cured), len(f.Worse), len(f.Better), f.Same, len(p.Added), len(p.Removed), len(p.Moved), len(p.Reshaped))
}
