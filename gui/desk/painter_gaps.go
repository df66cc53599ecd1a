package desk

import (
	"cmp"
	"slices"

	"aftbay/geom/clearance"
	"aftbay/geom/render"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// mostGaps is how many distances a picture shows at once: more cannot be told
// apart. Common practice, no source.
const mostGaps = 12

// addGaps draws the distance of every pair that fails or is close, or, with parts
// selected, those of the selected parts that are nearest to their limits: one a
// pair, in the state that is worst.
func addGaps(out *Picture, s *State, a *Attention) {
	r := s.Answers.Fit.Value
	if !a.Gaps || r == nil || findingOf(s, a.Finding) != nil {
		return
	}
	worst := worstOfPairs(r, a)
	for _, f := range worst[:min(len(worst), mostGaps)] {
		text := units.FormatMM(f.ClearanceMM)
		if f.Overlap {
			text = "overlap " + units.FormatMM(-f.ClearanceMM)
		}
		if f.State != "static" {
			text += ", " + f.State
		}
		out.Overlay.Witnesses = append(out.Overlay.Witnesses, render.Witness{From: f.PointA, To: f.PointB, Text: text, Color: verdictColor(f.Verdict)})
	}
	switch {
	case !s.Answers.Fit.Fresh:
		out.Note = phrase.Of("distances of an earlier state: computing")
	case len(worst) == 0:
		out.Note = phrase.Of("no distance to show: nothing fails or is close")
	case len(worst) > mostGaps:
		out.Note = "the " + counted(mostGaps, phrase.Of("worst distance"), phrase.Of("worst distances")) + " of " + counted(len(worst), "pair", "pairs")
	}
}

// worstOfPairs returns the finding with the least margin of each pair of parts
// that matters, the worst first.
func worstOfPairs(r *clearance.Result, a *Attention) []*clearance.Pair {
	worst := map[[2]string]*clearance.Pair{}
	for i := range r.Pairs {
		f := &r.Pairs[i]
		if f.MarginMM == nil || a.Hidden[f.A] || a.Hidden[f.B] {
			continue
		}
		of := slices.Contains(a.Selected, f.A) || slices.Contains(a.Selected, f.B)
		if len(a.Selected) > 0 && !of || len(a.Selected) == 0 && !clearance.Fails(f.Verdict) && f.Verdict != clearance.Close {
			continue
		}
		key := [2]string{f.A, f.B}
		if old := worst[key]; old == nil || *f.MarginMM < *old.MarginMM {
			worst[key] = f
		}
	}
	out := make([]*clearance.Pair, 0, len(worst))
	for _, f := range worst {
		out = append(out, f)
	}
	slices.SortFunc(out, func(x, y *clearance.Pair) int {
		return cmp.Or(cmp.Compare(*x.MarginMM, *y.MarginMM), cmp.Compare(x.ID, y.ID))
	})
	return out
}
