package desk

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
	"aftbay/thermal/shield"
)

// Shields is what the shields of the layout would do, each alone.
type Shields struct {
	Trials []*shield.Trial
	Faults []string // of those that can't be tried
}

// wantsShields reports whether the shields of the layout are still to be tried;
// the lock is held.
func (d *Desk) wantsShields() bool {
	a := &d.answers
	return a.Shields.pending() && a.Heat.Fresh && len(shieldsOf(d.doc)) > 0
}

func shieldsOf(doc *layout.Document) []layout.Shield {
	if doc == nil || doc.Heat == nil || len(doc.Heat.Cases) == 0 {
		return nil
	}
	return doc.Heat.Shields
}

// shieldsTask tries the shields of the layout; the lock is held.
func (d *Desk) shieldsTask(s *scene.Scene) task {
	before, list := d.answers.Heat.Value, shieldsOf(s.Doc)
	o := balance.Options{Workers: d.workers}
	return newTask(d, &d.answers.Shields, s, false, func(ctx context.Context, p geom.Progress) (*Shields, error) {
		out := &Shields{}
		for i := range list {
			t, err := shield.Try(ctx, s, before, &list[i], o, p)
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			if err != nil {
				out.Faults = append(out.Faults, phrase.Err(err))
				continue
			}
			t.Before, t.After = nil, nil // the list tells the changes; both are large
			out.Trials = append(out.Trials, t)
		}
		return out, nil
	}, func(*Shields) []said { return nil })
}

// LayoutShields sets before beside after for the shields of the layout: the part
// that each protects, in every case. The verdict is that with the shield.
func LayoutShields(s *State) Table {
	t := Table{Columns: []Column{text(phrase.Of("shield")), text(phrase.Of("case")), number(phrase.Of("without °C")), number(phrase.Of("with °C")), number(phrase.Of("to"))}}
	r := s.Answers.Shields.Value
	if r == nil || len(shieldsOf(s.Doc)) == 0 {
		return t
	}
	for _, trial := range r.Trials {
		for i := range trial.Changes {
			c := &trial.Changes[i]
			if c.Part != trial.For {
				continue
			}
			t.Rows = append(t.Rows, Row{
				Cells: []string{
					trial.Name, c.Case, units.NumberDegC(c.Before.Temperature.NominalDegC), units.NumberDegC(c.After.Temperature.NominalDegC),
					units.NumberDegC(c.After.Temperature.HighDegC),
				},
				Verdict: c.After.Verdict, Key: trial.Name + "/" + c.Case, Parts: []string{trial.For},
			})
		}
	}
	return t
}

// LayoutShieldsSay tells of the shields of the layout what LayoutShields does
// not; nothing where there are none.
func LayoutShieldsSay(s *State) []string {
	list := shieldsOf(s.Doc)
	a := &s.Answers.Shields
	switch {
	case len(list) == 0:
		return nil
	case a.Err != nil:
		return []string{phrase.Of("Shields of the layout: ") + phrase.Err(a.Err)}
	case a.Value == nil:
		return []string{phrase.F("Shields of the layout: %d, not tried yet.", len(list))}
	}
	var lines []string
	if !a.Fresh {
		lines = append(lines, phrase.Of("Before the last change:"))
	}
	for _, t := range a.Value.Trials {
		lines = append(lines, phrase.Say(t.Sentence))
	}
	return append(lines, a.Value.Faults...)
}

// LayoutShield returns the shield of the layout that a row of LayoutShields is
// about, to put it on trial.
func LayoutShield(s *State, row *Row) (sh layout.Shield, ok bool) {
	for _, sh := range shieldsOf(s.Doc) {
		if len(row.Cells) > 0 && sh.Name == row.Cells[0] {
			return sh, true
		}
	}
	return sh, false
}
