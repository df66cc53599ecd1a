package desk

import (
	"fmt"
	"slices"
	"strconv"

	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

// HeatTable lists every part in every case, those nearest to their limit first.
func HeatTable(r *balance.Result) Table {
	t := Table{
		Title: phrase.Of("What gets hot?"),
		Columns: []Column{
			text(phrase.Of("case")), text(phrase.Of("verdict")), text(phrase.Of("part")), number("low_degC"), number("nominal_degC"), number("high_degC"),
			number("limit_degC"), number("high_margin_K"), number("nominal_margin_K"), number("peak_time_min"), number("irradiation_kW_m2"), text(phrase.Of("most from")),
			number("skin_degC"), text(phrase.Of("least sure of")), text(phrase.Of("limit from")),
		},
	}
	for k := range r.Cases {
		parts := slices.Clone(r.Cases[k].Parts)
		slices.SortStableFunc(parts, compareHeat)
		for i := range parts {
			t.Rows = append(t.Rows, heatRow(r.Cases[k].Name, &parts[i]))
		}
	}
	if len(r.Cases) == 0 {
		t.Foot = append(t.Foot, noHeatCase)
	}
	if n := judge(r.Cases); n.worst != nil {
		t.Foot = append(t.Foot, phrase.F("%s. Worst: %s in %s: %s.", n.text(), n.worst.Name, n.in, n.worst.Temperature.Judged(*n.worst.LimitDegC)))
	}
	for i := range r.Warnings {
		t.Foot = append(t.Foot, phrase.Say(r.Warnings[i].Text))
	}
	t.Foot = append(t.Foot, r.Caution, r.Validation)
	return t
}

// noHeatCase is said where nothing was asked. Read-only.
var noHeatCase = phrase.Of("This layout has no heat case: nothing is worked out. Add heat with cases to its file, each with a name and air_degC.")

func heatRow(in string, p *balance.PartHeat) Row {
	limit, margin, highMargin, peak, skin := "", "", "", "", ""
	if p.Skin != nil {
		skin = units.NumberDegC(p.Skin.PeakDegC)
	}
	if p.LimitDegC != nil {
		limit = units.NumberDegC(*p.LimitDegC)
	}
	if p.MarginK != nil {
		margin, highMargin = units.NumberK(*p.MarginK), units.NumberK(*p.HighMarginK)
	}
	if p.PeakTimeS != nil {
		peak = units.NumberMin(*p.PeakTimeS)
	}
	return Row{
		Cells: []string{
			in, p.Verdict, p.Name, units.NumberDegC(p.Temperature.LowDegC), units.NumberDegC(p.Temperature.NominalDegC),
			units.NumberDegC(p.Temperature.HighDegC), limit, highMargin, margin, peak, units.NumberKWM2(p.Irradiation.MeanWM2), sharesText(p.From),
			skin, leastSure(p), p.LimitSource,
		},
		Verdict: p.Verdict, Key: p.Name, Parts: []string{p.Name},
	}
}

// leastSure names the input that moves a temperature most, with how far.
func leastSure(p *balance.PartHeat) string {
	if len(p.Effects) == 0 || p.Effects[0].UpK-p.Effects[0].DownK < leastToldK {
		return ""
	}
	e := &p.Effects[0]
	return fmt.Sprintf("%s %+.0f %+.0f K", e.Input, e.DownK, e.UpK)
}

// leastToldK: an input that moves a temperature less is not worth a word.
const leastToldK = 1

// SpotTable lists the places of all studies, best first.
func SpotTable(r *spot.Result) Table {
	t := Table{
		Title: phrase.Of("Where can it be mounted?"),
		Columns: []Column{
			text(phrase.Of("component")), number(phrase.Of("rank")), text(phrase.Of("host")), text(phrase.Of("point mm")), number("low_degC"), number("nominal_degC"),
			number("high_degC"), number("clearance_mm"), number("reach_mm"), number(phrase.Of("score")), text(phrase.Of("verdict")),
			text(phrase.Of("side")), number("slack_mm"), text(phrase.Of("sentence")),
		},
	}
	for i := range r.Spots {
		sp := &r.Spots[i]
		low, nominal, high := "", "", ""
		if b := sp.Temperature; b != nil {
			low, nominal, high = units.NumberDegC(b.LowDegC), units.NumberDegC(b.NominalDegC), units.NumberDegC(b.HighDegC)
		}
		t.Rows = append(t.Rows, Row{
			Cells: []string{
				sp.Component, strconv.Itoa(sp.Rank), sp.Host, pointText(sp.PointMM), low, nominal, high,
				optionalMM(sp.ClearanceMM), optionalMM(sp.ReachMM), scoreText(sp.Score), sp.Verdict,
				sp.Side, units.NumberMM(sp.SlackMM), phrase.Say(sp.Sentence),
			},
			Verdict: sp.Verdict, Key: strconv.Itoa(sp.Rank), Parts: []string{sp.Host},
		})
	}
	for i := range r.Studies {
		st := &r.Studies[i]
		t.Foot = append(t.Foot, phrase.Say(st.Sentence))
		if now := PresentText(st); now != "" {
			t.Foot = append(t.Foot, now)
		}
		for _, no := range st.Refused {
			t.Foot = append(t.Foot, phrase.F("  refused %d: %s (narrowest miss: %s)", no.Count, no.Reason, no.Example))
		}
		for _, line := range ChangesText(st) {
			t.Foot = append(t.Foot, "  "+line)
		}
	}
	if r.Joint != nil {
		t.Foot = append(t.Foot, phrase.Say(r.Joint.Sentence))
	}
	t.Foot = append(t.Foot, r.Caution)
	return t
}
