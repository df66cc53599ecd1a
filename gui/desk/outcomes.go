package desk

import (
	"context"
	"fmt"
	"strings"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/compare"
	"aftbay/geom/drop"
	"aftbay/geom/rearview"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
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

// older are the answers beside clearance of what the layout is compared with:
// taken over where they were worked out anyway, else worked out when asked for.
type older struct {
	of   *compare.Side
	side outcome.Side
}

// noteOlder keeps the present answers if they are of the very state that is
// compared with; the lock is held.
func (d *Desk) noteOlder() {
	old := d.against()
	if old == nil || d.doc == nil { // closed meanwhile
		return
	}
	if d.older.of != old {
		d.older = older{of: old}
	}
	now := d.present()
	if now.Drop != nil && d.answers.Drop.scene == old.Scene {
		d.older.side.Drop = now.Drop
	}
	if now.Sight != nil && d.answers.Seen.scene == old.Scene {
		d.older.side.Sight = now.Sight
	}
	if now.Heat != nil && d.answers.Heat.scene == old.Scene {
		d.older.side.Heat = now.Heat.Figures()
	}
}

// present are the fresh answers beside clearance; the lock is held.
func (d *Desk) present() outcome.Side {
	var side outcome.Side
	a := &d.answers
	if a.Drop.Fresh && d.doc.Drop != nil {
		side.Drop = a.Drop.Value
	}
	if a.Seen.Fresh && a.Seen.Value != nil {
		side.Sight = a.Seen.Value.Result
	}
	if a.Heat.Fresh && a.Heat.Value != nil && len(a.Heat.Value.Cases) > 0 {
		side.Heat = a.Heat.Value
	}
	return side
}

// wantsOutcomes reports whether the answers beside clearance are still to be
// compared; the lock is held.
func (d *Desk) wantsOutcomes() bool {
	a := &d.answers
	return a.Outcomes.pending() && a.Changes.Fresh && !a.Drop.pending() && !a.Seen.pending() && !a.Heat.pending() && d.against() != nil
}

// outcomesTask compares the answers beside clearance; the lock is held.
func (d *Desk) outcomesTask(s *scene.Scene) task {
	d.noteOlder()
	old, now := d.older, d.present()
	return newTask(d, &d.answers.Outcomes, s, false, func(ctx context.Context, p geom.Progress) (*outcome.Result, error) {
		lacks := Asked{
			Drop: now.Drop != nil && old.side.Drop == nil, Sight: now.Sight != nil && old.side.Sight == nil, Heat: now.Heat != nil && old.side.Heat == nil,
		}
		more, err := AnswersOf(ctx, old.of.Scene, lacks, d.workers, p)
		if err != nil {
			return nil, say.Errorf("answers of %s: %w", old.of.Name, err)
		}
		if more.Heat != nil {
			more.Heat = more.Heat.Figures()
		}
		old.side = old.side.With(more)
		d.mu.Lock()
		if d.older.of == old.of {
			d.older = old
		}
		d.mu.Unlock()
		return outcome.Compare(old.side, now, 0), nil
	}, func(*outcome.Result) []said { return nil })
}

// changesTile is the tile of what changed: findings first, then the questions
// whose answers differ.
func changesTile(a *Answers) Tile {
	t := tileOf(&a.Changes, 0)
	o := a.Outcomes.Value
	if o == nil || !a.Outcomes.Fresh || t.Stale || a.Changes.Value == nil {
		return t
	}
	for _, q := range o.Changed() {
		t.Answer += "; " + outcomeWord(q)
		if q.Change == outcome.New {
			t.Verdict = clearance.Short
		} else if q.Change == outcome.Worse && t.Verdict == clearance.OK {
			t.Verdict = clearance.Close
		}
	}
	return t
}

// outcomeWord says what became of a question.
func outcomeWord(q outcome.Question) string {
	name := strings.ReplaceAll(q.Name, "-", " ")
	if q.Change == outcome.New {
		return name + phrase.Of(" newly fails")
	}
	return name + " " + q.Change
}

// OutcomeWords are the sentences on what became of drop, rear view and heat; none
// where nothing differs.
func OutcomeWords(s *State) []string {
	a := &s.Answers.Outcomes
	switch {
	case a.Err != nil:
		return []string{phrase.Err(a.Err)}
	case a.Value == nil || !a.Fresh:
		if a.Job.Running {
			return []string{phrase.Of("Drop, rear view and heat are being compared …")}
		}
		return nil
	case a.Value.Nothing():
		return nil
	}
	return phrase.All(a.Value.Sentences())
}

// ChangesOther lists in one table what became of drop, rear view and heat, for
// the window.
func ChangesOther(s *State) Table {
	t := Table{Columns: []Column{text(phrase.Of("question")), text(phrase.Of("change")), text(phrase.Of("what")), number(phrase.Of("before")), number(phrase.Of("now")), text(phrase.Of("unit")), text(phrase.Of("verdict"))}}
	r := s.Answers.Outcomes.Value
	if r == nil || !s.Answers.Outcomes.Fresh {
		return t
	}
	if r.Heat != nil {
		for _, kind := range heatKinds(r.Heat) {
			for i := range kind.list {
				p := &kind.list[i]
				t.Rows = append(t.Rows, Row{
					Cells:   []string{"heat", kind.name, p.Part + phrase.Of(", high end, ") + p.Case, optionalDegC(p.HighBeforeDegC), optionalDegC(p.HighNowDegC), "°C", p.Verdict},
					Verdict: p.Verdict, Key: p.Part, Parts: []string{p.Part},
				})
			}
		}
	}
	add := func(question, change string, list []outcome.Figure) {
		for _, f := range list {
			t.Rows = append(t.Rows, Row{Cells: []string{question, change, phrase.Say(f.What), optionalMM(f.Before), optionalMM(f.Now), f.Unit, ""}})
		}
	}
	if r.Drop != nil {
		add("drop", r.Drop.Change, r.Drop.Limits)
	}
	if r.Sight != nil {
		add(phrase.Of("rear view"), r.Sight.Change, r.Sight.Figures)
	}
	return t
}

// heatKind is one kind of change with its temperatures.
type heatKind struct {
	name string
	list []outcome.Temperature
}

func heatKinds(h *outcome.Heat) []heatKind {
	return []heatKind{{"new", h.New}, {"worse", h.Worse}, {"cured", h.Cured}, {"better", h.Better}, {"hotter", h.Hotter}, {"cooler", h.Cooler}}
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
		out = append(out, changedFigures(phrase.Of("Drop: how low each limit lets it go"), r.Drop.Limits))
	}
	if r.Sight != nil && len(r.Sight.Figures) > 0 {
		out = append(out, changedFigures(phrase.Of("Rear view, ")+r.Sight.Rule, r.Sight.Figures))
	}
	return out
}

// changedHeat lists the temperatures that changed, the gravest kind first.
func changedHeat(h *outcome.Heat) Table {
	t := Table{Title: phrase.Of("Heat"), Columns: []Column{
		text(phrase.Of("change")), text(phrase.Of("part")), text(phrase.Of("case")), number(phrase.Of("nominal before_degC")), number(phrase.Of("nominal now_degC")), number(phrase.Of("high before_degC")), number(phrase.Of("high now_degC")), number("by_K"), number("limit_degC"), text(phrase.Of("before")), text(phrase.Of("now")),
	}}
	for _, kind := range heatKinds(h) {
		for i := range kind.list {
			p := &kind.list[i]
			by := ""
			if p.ByK != nil {
				by = signedK(*p.ByK)
			}
			t.Rows = append(t.Rows, Row{
				Cells:   []string{kind.name, p.Part, p.Case, optionalDegC(p.BeforeDegC), optionalDegC(p.NowDegC), optionalDegC(p.HighBeforeDegC), optionalDegC(p.HighNowDegC), by, limitWords(p), p.Was, p.Verdict},
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
	return phrase.F("%s, before %s", orDash(now), before)
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
	t := Table{Title: title, Columns: []Column{text(phrase.Of("what")), text(phrase.Of("unit")), number(phrase.Of("before")), number(phrase.Of("now")), number(phrase.Of("by"))}}
	for _, f := range list {
		by := ""
		if f.Before != nil && f.Now != nil {
			by = fmt.Sprintf("%+.2f", *f.Now-*f.Before)
		}
		t.Rows = append(t.Rows, Row{Cells: []string{phrase.Say(f.What), f.Unit, optionalMM(f.Before), optionalMM(f.Now), by}})
	}
	return t
}
