package desk

import (
	"context"
	"strings"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/rearview"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// seenTask works out what the driver sees; a quick answer without the heights
// that parts may reach comes first, fast enough to follow a hand.
func (d *Desk) seenTask(s *scene.Scene, quick bool) task {
	o := rearview.Options{Workers: d.workers, Quick: quick}
	return newTask(d, &d.answers.Seen, s, quick, func(ctx context.Context, p geom.Progress) (*Seen, error) {
		if s.Doc.RearView == nil {
			return &Seen{}, nil
		}
		r, err := rearview.Run(ctx, s, o, p)
		if err != nil {
			return nil, err
		}
		return d.seen.paint(ctx, s, r, d.workers)
	}, saySeen)
}

// saySeen says the answer in one line.
func saySeen(v *Seen) []said {
	if v.Result == nil {
		return []said{{}}
	}
	if f := v.Result.Forward; f != nil && !f.Met {
		return []said{{phrase.F("ahead only %s %% of the target seen; behind ", Percent(f.Seen.EitherShare)) + seenLine(v.Result), rearview.Short}}
	}
	return []said{{seenLine(v.Result), v.Result.Required.Verdict}}
}

// seenLine is the answer of the rule in a line: how much is seen, who takes
// most or is next.
func seenLine(r *rearview.Result) string {
	line := phrase.F("%s %% of the road seen, %g %% asked", Percent(r.Seen.EitherShare), 100*r.Required.LeastShare)
	if r.Required.Rule == rearview.RuleUS {
		line = phrase.F("%.1f° wide, %s %% of the road seen", r.ClearAngleDeg, Percent(r.Seen.EitherShare))
	}
	switch next := blockersOf(&r.Answer); {
	case len(next) == 0:
	case next[0].share > 0:
		line += phrase.F("; %s takes %s %%", next[0].part, Percent(next[0].share))
		if h := next[0].height; h != nil && h.AllowanceMarginMM != nil && *h.AllowanceMarginMM < 0 {
			line += phrase.Of(", must go down ") + units.FormatMM(-*h.AllowanceMarginMM)
		}
	case next[0].height != nil:
		line += phrase.F("; %s may rise %s", next[0].part, units.FormatMM(*next[0].height.NoLossMarginMM))
	}
	return line
}

// sightTile is the tile of the question: the rear view, and the keep-out solid
// where it stands worse or alone.
func sightTile(a *Answers) Tile {
	keepOut := tileOf(&a.Fit, saysSight)
	v := a.Seen.Value
	if a.Seen.Err == nil && v != nil && v.Result == nil {
		return keepOut
	}
	t := tileOf(&a.Seen, 0)
	if a.Fit.Value != nil && clearance.Fails(keepOut.Verdict) && a.Seen.Err == nil && v != nil {
		// What the verdict is about comes first, and of the rest what fits a tile.
		seen, _, _ := strings.Cut(t.Answer, ";")
		t.Answer, t.Verdict = keepOut.Answer+"; "+seen, keepOut.Verdict
		t.Stale = t.Stale || keepOut.Stale
	}
	return t
}
