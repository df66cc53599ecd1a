package desk

import (
	"fmt"

	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/shield"
)

// ShieldTable sets before beside after for the shields on trial.
func ShieldTable(trials []*shield.Trial) Table {
	t := Table{
		Title: phrase.Of("What would a shield do?"),
		Columns: []Column{
			text(phrase.Of("shield")), text(phrase.Of("case")), text(phrase.Of("part")), number("before_degC"), number("after_degC"), number("change_K"),
			number("high_before_degC"), number("high_after_degC"), number("irradiation_before_kW_m2"), number("irradiation_after_kW_m2"),
			text(phrase.Of("verdict before")), text(phrase.Of("verdict after")),
		},
	}
	for _, trial := range trials {
		for i := range trial.Changes {
			c := &trial.Changes[i]
			b, a := &c.Before, &c.After
			t.Rows = append(t.Rows, Row{
				Cells: []string{
					trial.Name, c.Case, c.Part, units.NumberDegC(b.Temperature.NominalDegC), units.NumberDegC(a.Temperature.NominalDegC),
					fmt.Sprintf("%+.0f", c.ByK), units.NumberDegC(b.Temperature.HighDegC), units.NumberDegC(a.Temperature.HighDegC),
					units.NumberKWM2(b.IrradiationWM2), units.NumberKWM2(a.IrradiationWM2), b.Verdict, a.Verdict,
				},
				Verdict: a.Verdict, Key: c.Part, Parts: []string{c.Part},
			})
		}
		t.Foot = append(t.Foot, phrase.Say(trial.Sentence))
		for _, note := range trial.Assumed {
			t.Foot = append(t.Foot, "  "+trial.Name+": "+phrase.Say(note))
		}
	}
	if len(trials) > 0 {
		t.Foot = append(t.Foot, trials[0].Caution)
	}
	return t
}
