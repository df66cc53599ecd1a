package desk

import (
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// Readout tells what the heat picture shows under the pointer: the part, the
// value there with its unit, the band and the limit. triangle is of the picture's
// item; there is nothing to tell elsewhere.
func Readout(s *State, a *Attention, p *Picture, item, triangle int) []string {
	if a.Page != Heats || a.Finding != "" || a.Faults || item < 0 || item >= len(p.Items) || item >= len(p.Parts) {
		return nil
	}
	s = WithShield(s, a)
	part := p.Parts[item]
	if t := s.Answers.Shield.Value; t != nil && part == "" && !a.Without {
		part = t.Name
	}
	ph := partHeat(s, a.Case, part)
	if ph == nil {
		if part == "" {
			return nil
		}
		return []string{part + phrase.Of(": takes no part in the heat study")}
	}
	first := part
	if f := p.Items[item].Field; p.Field != nil && triangle >= 0 && triangle < len(f) {
		first += "  " + scaleText(f[triangle], p.Field.Unit)
	}
	lines := append([]string{first}, readoutFigures(ph, a)...)
	if h := &s.Answers.Heat; !h.Fresh {
		word := phrase.Of("of an earlier state: computing")
		if h.Rough {
			word = phrase.Of("coarse, refining")
		}
		lines = append(lines, word)
	}
	return lines
}

// readoutFigures tells of the part as a whole what belongs to the picture.
func readoutFigures(ph *balance.PartHeat, a *Attention) []string {
	t := ph.Temperature
	whole := phrase.F("low %s, nominal %s, high %s", units.NumberDegC(t.LowDegC), units.NumberDegC(t.NominalDegC), units.FormatDegC(t.HighDegC))
	if ph.PeakTimeS != nil {
		whole = "peak: " + whole
	}
	if ph.Held {
		whole = phrase.Of("held at this temperature")
	}
	var lines []string
	switch {
	case a.Heat == Irradiated && ph.PeakTimeS != nil:
		lines = append(lines, phrase.F("mean %s, most %s when the part is hottest", units.NumberKWM2(ph.Irradiation.MeanWM2), units.FormatWM2(ph.Irradiation.PeakWM2)))
	case a.Heat == Irradiated:
		lines = append(lines, phrase.F("mean %s, most %s", units.NumberKWM2(ph.Irradiation.MeanWM2), units.FormatWM2(ph.Irradiation.PeakWM2)))
	case a.Heat == SkinTemperature:
		lines = append(lines, phrase.Of("part as a whole: ")+whole)
	default:
		lines = append(lines, whole)
	}
	if ph.LimitDegC != nil {
		lines = append(lines, phrase.F("limit %s: %s", units.FormatDegC(*ph.LimitDegC), ph.Verdict))
	}
	return lines
}
