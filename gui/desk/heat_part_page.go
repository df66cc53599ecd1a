package desk

import (
	"fmt"
	"math"
	"slices"

	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// BandBar is a temperature band with its limit over a round scale, ready to
// draw. Without a limit LimitText is empty.
type BandBar struct {
	FromDegC, ToDegC                        float64
	LowDegC, NominalDegC, HighDegC          float64
	LimitDegC                               float64
	LowText, NominalText, HighText, Verdict string
	LimitText                               string
}

// Bar is a share with its name and figure; what is second stands beside it in
// another tone.
type Bar struct {
	Name, Text         string
	Part               string // that it speaks of, "" for none
	Share, SecondShare float64
}

// HeatPart is what the page tells of one part in a case.
type HeatPart struct {
	Name   string
	Says   []string
	Band   BandBar
	From   []Bar // where its irradiation comes from, the largest first
	Ways   []Bar // how it takes heat, in the order of thermal/balance
	Others []string
}

const (
	// sourcesShown is how many sources of a part are told on the page.
	sourcesShown = 5
	// leastTold is the share below which nothing is told: it would read 0 %.
	leastTold = 0.005
)

// partHeat returns what is known of a part in a case, nil if nothing.
func partHeat(s *State, k int, part string) *balance.PartHeat {
	r := s.Answers.Heat.Value
	if r == nil || k < 0 || k >= len(r.Cases) || part == "" {
		return nil
	}
	i := slices.IndexFunc(r.Cases[k].Parts, func(p balance.PartHeat) bool { return p.Name == part })
	if i < 0 {
		return nil
	}
	return &r.Cases[k].Parts[i]
}

// HeatPartOf tells all about the chosen part in the chosen case; nil without one.
func HeatPartOf(s *State, a *Attention) *HeatPart {
	if len(a.Selected) == 0 {
		return nil
	}
	p := partHeat(s, a.Case, a.Selected[0])
	if p == nil {
		return nil
	}
	return &HeatPart{
		Name: p.Name, Says: heatSays(p), Band: bandOf(p), From: fromBars(p.Name, p.From), Ways: wayBars(p), Others: heatOthers(p),
	}
}

// wholePercent writes a share without decimals: an estimate deserves no more.
func wholePercent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// bandOf returns the band of a part over round ends.
func bandOf(p *balance.PartHeat) BandBar {
	t := p.Temperature
	b := BandBar{
		LowDegC: t.LowDegC, NominalDegC: t.NominalDegC, HighDegC: t.HighDegC, Verdict: p.Verdict,
		LowText: units.NumberDegC(t.LowDegC), NominalText: units.FormatDegC(t.NominalDegC), HighText: units.FormatDegC(t.HighDegC),
	}
	low, high := t.LowDegC, t.HighDegC
	if p.LimitDegC != nil {
		b.LimitDegC, b.LimitText = *p.LimitDegC, "limit "+units.NumberDegC(*p.LimitDegC)
		low, high = math.Min(low, b.LimitDegC), math.Max(high, b.LimitDegC)
	}
	const endDegC = 10 // round ends with some room
	b.FromDegC, b.ToDegC = endDegC*math.Floor(low/endDegC-0.5), endDegC*math.Ceil(high/endDegC+0.5)
	return b
}

// fromBars lists the strongest sources and what all others add.
func fromBars(part string, shares []balance.Share) []Bar {
	var out []Bar
	var rest balance.Share
	more := 0
	for i, from := range shares {
		if from.DirectShare+from.ReflectedShare == 0 { // not told apart
			from.DirectShare = from.Share
		}
		if i >= sourcesShown || from.Share < leastTold {
			rest.Share += from.Share
			rest.DirectShare += from.DirectShare
			rest.ReflectedShare += from.ReflectedShare
			more++
			continue
		}
		b := Bar{Name: from.Part, Part: from.Part, Text: wholePercent(from.Share), Share: from.DirectShare, SecondShare: from.ReflectedShare}
		switch from.Part {
		case balance.Surroundings:
			b.Part = ""
		case part:
			b.Name, b.Part = "itself", ""
		}
		out = append(out, b)
	}
	if rest.Share >= leastTold {
		out = append(out, Bar{Name: phrase.F("%d others", more), Text: wholePercent(rest.Share), Share: rest.DirectShare, SecondShare: rest.ReflectedShare})
	}
	return out
}

// wayBars tells by which ways a part takes heat.
func wayBars(p *balance.PartHeat) []Bar {
	l := p.Loads
	if l == nil {
		return nil
	}
	ways := []struct {
		name  string
		takes float64 // Bare numbers: W
	}{{phrase.Of("direct radiation"), l.DirectW}, {phrase.Of("reflected radiation"), l.ReflectedW}, {"air", l.ConvectedW}, {"contact", l.ConductedW}, {phrase.Of("own power"), l.OwnW}}
	sumW := 0.0
	for _, w := range ways {
		sumW += math.Max(0, w.takes)
	}
	var out []Bar
	for _, w := range ways {
		if w.takes > 0 && w.takes/sumW >= leastTold {
			out = append(out, Bar{Name: w.name, Text: units.FormatW(w.takes) + ", " + wholePercent(w.takes/sumW), Share: w.takes / sumW})
		}
	}
	return out
}

// heatSays tells the temperature of a part, its limit and its times in sentences.
func heatSays(p *balance.PartHeat) []string {
	t := p.Temperature
	says := phrase.F("%s: %s to %s, nominal %s", p.Name, units.NumberDegC(t.LowDegC), units.FormatDegC(t.HighDegC), units.FormatDegC(t.NominalDegC))
	if p.PeakTimeS != nil {
		says += ", peak " + units.FormatMin(*p.PeakTimeS) + phrase.Of(" after key-off")
	}
	lines := []string{says + "."}
	if p.Held {
		lines[0] = phrase.F("%s: held at this temperature, %s.", p.Name, units.FormatDegC(t.NominalDegC))
		if p.HottestDegC != nil {
			lines[0] = phrase.F("%s: held along a line, %s in the mean, at most %s.", p.Name, units.FormatDegC(t.NominalDegC), units.FormatDegC(*p.HottestDegC))
		}
	}
	if p.LimitDegC != nil {
		lines = append(lines, phrase.F("%s: %s.", capital(phrase.Word(p.Verdict)), p.Temperature.Judged(*p.LimitDegC)), phrase.Of("Limit from: ")+limitSource(p)+".")
		if p.HighAboveS != nil && *p.HighAboveS > 0 {
			lines = append(lines, phrase.F("The high end is above it for %s, the nominal for %s.", units.FormatMin(*p.HighAboveS), units.FormatMin(*p.AboveLimitS)))
		}
	}
	if p.Skin != nil && !p.Held {
		lines = append(lines, phrase.F("Hottest place of its skin %s, if heat does not run along the wall.", units.FormatDegC(p.Skin.PeakDegC)))
	}
	return lines
}

// limitSource says where a limit is from.
func limitSource(p *balance.PartHeat) string {
	if p.LimitHabit {
		return p.LimitSource + phrase.Of("; habit, no standard")
	}
	return p.LimitSource
}

// heatOthers tells what makes the band wide, and the films.
func heatOthers(p *balance.PartHeat) []string {
	var lines []string
	if len(p.Effects) > 0 {
		e := p.Effects[0]
		lines = append(lines, phrase.F("Band: most from %s, %s to +%s.", e.Input, units.NumberK(e.DownK), units.FormatK(e.UpK)))
	}
	lines = append(lines, phrase.F("Irradiation %s on average, at most %s. Emissivity %.2f, film %.1f W/(m² K).",
		units.FormatWM2(p.Irradiation.MeanWM2), units.FormatWM2(p.Irradiation.PeakWM2), p.Emissivity, p.FilmWM2K))
	if l := p.Loads; l != nil {
		gives := phrase.F("It sends out %s", units.FormatW(-l.RadiatedW))
		if l.ConvectedW < 0 {
			gives += ", gives " + units.FormatW(-l.ConvectedW) + phrase.Of(" to the air")
		}
		if l.ConductedW < 0 {
			gives += ", " + units.FormatW(-l.ConductedW) + phrase.Of(" by contact")
		}
		lines = append(lines, gives+".")
	}
	return lines
}
