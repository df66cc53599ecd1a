package desk

import (
	"context"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/drop"
	"aftbay/geom/rearview"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/thermal/balance"
	"aftbay/thermal/outcome"
)

// Asked says which questions beside clearance are to be answered.
type Asked struct{ Drop, Sight, Heat bool }

// AnswersOf answers the questions that are asked and that the layout asks too.
// Temperatures take seconds.
func AnswersOf(ctx context.Context, s *scene.Scene, asked Asked, workers int, progress geom.Progress) (outcome.Side, error) {
	var side outcome.Side
	var err error
	if asked.Drop && s.Doc.Drop != nil {
		if side.Drop, err = drop.Run(ctx, s, DropOptions(workers), progress); err != nil {
			return side, err
		}
	}
	if asked.Sight && s.Doc.RearView != nil {
		if side.Sight, err = rearview.Run(ctx, s, rearview.Options{Workers: workers}, progress); err != nil {
			return side, err
		}
	}
	if asked.Heat && s.Doc.Heat != nil && len(s.Doc.Heat.Cases) > 0 {
		side.Heat, err = balance.Run(ctx, s, balance.Options{Workers: workers}, progress)
	}
	return side, err
}

// OutcomeTables set out what became of drop, rear view and heat, those tables
// alone that hold something.
func OutcomeTables(r *outcome.Result) []Table {
	var out []Table
	if r.Heat != nil {
		if t := changedHeat(r.Heat); len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	if r.Drop != nil && len(r.Drop.Limits) > 0 {
		out = append(out, changedFigures("Drop: how low each limit lets it go", r.Drop.Limits))
	}
	if r.Sight != nil && len(r.Sight.Figures) > 0 {
		out = append(out, changedFigures("Rear view, "+r.Sight.Rule, r.Sight.Figures))
	}
	return out
}

// changedHeat lists the temperatures that changed, the gravest kind first.
func changedHeat(h *outcome.Heat) Table {
	t := Table{Title: "Heat", Columns: []Column{
		text("change"), text("part"), text("case"), number("before_degC"), number("now_degC"), number("by_K"), number("limit_degC"), text("before"), text("now"),
	}}
	for _, kind := range []struct {
		name string
		list []outcome.Temperature
	}{{"new", h.New}, {"worse", h.Worse}, {"cured", h.Cured}, {"better", h.Better}, {"hotter", h.Hotter}, {"cooler", h.Cooler}} {
		for i := range kind.list {
			p := &kind.list[i]
			by := ""
			if p.ByK != nil {
				by = signedK(*p.ByK)
			}
			t.Rows = append(t.Rows, Row{
				Cells:   []string{kind.name, p.Part, p.Case, optionalDegC(p.BeforeDegC), optionalDegC(p.NowDegC), by, limitWords(p), p.Was, p.Verdict},
				Verdict: p.Verdict, Key: p.Part, Parts: []string{p.Part},
			})
		}
	}
	return t
}

// limitWords is the limit, and the one before where it was another.
func limitWords(p *outcome.Temperature) string {
	now, before := optionalDegC(p.LimitNowDegC), optionalDegC(p.LimitBeforeDegC)
	if now == before || before == "" || p.NowDegC == nil {
		if now == "" {
			return before
		}
		return now
	}
	return fmt.Sprintf("%s, before %s", orDash(now), before)
}

func orDash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

func optionalDegC(degC *float64) string {
	if degC == nil {
		return ""
	}
	return units.NumberDegC(*degC)
}

func signedK(byK float64) string {
	text := units.NumberK(byK)
	if byK > 0 {
		text = "+" + text
	}
	return text
}

// changedFigures lists numbers before and now.
func changedFigures(title string, list []outcome.Figure) Table {
	t := Table{Title: title, Columns: []Column{text("what"), text("unit"), number("before"), number("now"), number("by")}}
	for _, f := range list {
		by := ""
		if f.Before != nil && f.Now != nil {
			by = fmt.Sprintf("%+.2f", *f.Now-*f.Before)
		}
		t.Rows = append(t.Rows, Row{Cells: []string{f.What, f.Unit, optionalMM(f.Before), optionalMM(f.Now), by}})
	}
	return t
}
