package desk

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/gui/phrase"
	"aftbay/gui/report"
	"aftbay/thermal/balance"
)

const (
	// heatRows is how many parts that pass, and how many without a limit, are
	// listed: the nearest to their limit, the hottest.
	heatRows = 12
	// heatWays is of how many parts the ways of heat are told.
	heatWays = 12
	// heatCurves is how many curves a plot of a soak holds.
	heatCurves = 5
)

func (b *packer) heat(m *report.Model) error {
	r := b.s.Answers.Heat.Value
	if r == nil {
		return nil
	}
	h := &report.Heat{Sentence: b.s.Tiles[Heats].Answer, Validation: r.Validation}
	for i := range r.Warnings {
		w := &r.Warnings[i]
		h.Warnings = append(h.Warnings, report.HeatWarning{Text: capital(phrase.Say(w.Text)), Source: w.Source})
	}
	for k := range r.Cases {
		c := &r.Cases[k]
		out := report.HeatCase{Name: c.Name, Conditions: conditions(b.s, c.Name)}
		if c.After == "" {
			out.BalanceW = ptr(c.SuppliedW - c.TakenW)
		}
		parts := sortedHeat(c.Parts)
		b.heatRows(&out, parts)
		if c.After != "" {
			out.Plots = append(out.Plots, soakPlot(parts))
		}
		var err error
		name := fmt.Sprintf("heat-%02d", k+1)
		if out.Picture, err = b.heatPicture(name, &Attention{Page: Heats, Case: k}); err != nil {
			return err
		}
		if c.After == "" {
			if out.Irradiation, err = b.heatPicture(name+"-irradiation", &Attention{Page: Heats, Case: k, Heat: Irradiated}); err != nil {
				return err
			}
		}
		h.Cases = append(h.Cases, out)
	}
	h.Shields = shieldRows(b.s)
	m.Heat = h
	return nil
}

// heatRows lists what is over or near its limit whole, and of the rest the first
// ones.
func (b *packer) heatRows(out *report.HeatCase, parts []*balance.PartHeat) {
	listed := map[string]int{}
	for _, p := range parts {
		passes := p.Verdict == balance.OK || p.Verdict == balance.NoLimit
		if listed[p.Verdict]++; passes && listed[p.Verdict] > heatRows {
			out.Left++
			continue
		}
		out.Rows = append(out.Rows, b.heatRow(p))
		if p.Loads != nil && p.LimitDegC != nil && len(out.Ways) < heatWays {
			out.Ways = append(out.Ways, report.HeatWay{
				Part: p.Name, DirectW: p.Loads.DirectW, ReflectedW: p.Loads.ReflectedW, AirW: p.Loads.ConvectedW,
				ContactW: p.Loads.ConductedW, OwnW: p.Loads.OwnW, SentW: p.Loads.RadiatedW, LeastSure: leastSure(p),
			})
		}
	}
}

// heatPicture draws the bay in the colours of a case.
func (b *packer) heatPicture(name string, a *Attention) (*report.Picture, error) {
	_, image, err := b.whole(a)
	if err != nil {
		return nil, err
	}
	c := &b.s.Answers.Heat.Value.Cases[a.Case]
	caption := phrase.F("%s: nominal %s", c.Name, heatWords[a.Heat])
	if c.After != "" {
		caption += phrase.Of(", peaks after key-off")
	}
	return b.keep(name, image, caption), nil
}

func (b *packer) heatRow(p *balance.PartHeat) report.HeatRow {
	row := report.HeatRow{
		Part: p.Name, LowDegC: p.Temperature.LowDegC, NominalDegC: p.Temperature.NominalDegC, HighDegC: p.Temperature.HighDegC,
		PeakTimeS: p.PeakTimeS, AboveLimitS: p.HighAboveS, LimitDegC: p.LimitDegC, MarginK: p.MarginK, HighMarginK: p.HighMarginK,
		LimitSource: p.LimitSource, Habit: p.LimitHabit, Verdict: verdictOf(p.Verdict),
	}
	if i, ok := b.s.Scene.Index(p.Name); ok {
		row.Role = b.s.Scene.Parts[i].Role
	}
	for i, share := range p.From {
		if i == 3 {
			break
		}
		if share.Part == p.Name {
			share.Part = "itself"
		}
		row.From = append(row.From, report.Share{Part: share.Part, Ratio: share.Share})
	}
	return row
}

// shieldParts is how many figures of a shield are listed beside those of the part
// that it protects: the largest falls.
const shieldParts = 8

// shieldRows sets before beside after for the shields of the layout.
func shieldRows(s *State) []report.Shield {
	a := &s.Answers.Shields
	if a.Value == nil || !a.Fresh {
		return nil
	}
	var out []report.Shield
	for _, t := range a.Value.Trials {
		sh := report.Shield{Name: t.Name, Over: t.Over, For: t.For, Sentence: phrase.Say(t.Sentence), Assumed: phrase.All(t.Assumed)}
		others := 0
		for i := range t.Changes {
			c := &t.Changes[i]
			if c.Part != t.For {
				if others++; others > shieldParts {
					sh.Left++
					continue
				}
			}
			sh.Rows = append(sh.Rows, report.ShieldRow{
				Case: c.Case, Part: c.Part, BeforeDegC: c.Before.Temperature.NominalDegC, AfterDegC: c.After.Temperature.NominalDegC,
				HighBeforeDegC: c.Before.Temperature.HighDegC, HighAfterDegC: c.After.Temperature.HighDegC, ByK: c.ByK,
				BeforeWM2: c.Before.IrradiationWM2, AfterWM2: c.After.IrradiationWM2,
				BeforeVerdict: verdictOf(c.Before.Verdict), Verdict: verdictOf(c.After.Verdict),
			})
		}
		out = append(out, sh)
	}
	return out
}

// soakPlot draws the curves of the parts nearest to their limit, and the limit
// of the nearest.
func soakPlot(parts []*balance.PartHeat) report.Plot {
	p := report.Plot{Title: phrase.Of("After key-off"), XLabel: phrase.Of("time, min"), YLabel: "temperature, °C", Caption: "Nominal."}
	for _, part := range parts {
		if len(p.Lines) == heatCurves || len(part.Curve) < 2 || part.LimitDegC == nil {
			continue
		}
		if len(p.Lines) == 0 {
			p.Marks = append(p.Marks, report.PlotMark{Name: phrase.Of("limit of ") + part.Name, Place: mgl64.Vec2{0, *part.LimitDegC}})
		}
		line := report.Line{Name: part.Name}
		for _, at := range part.Curve {
			line.Points = append(line.Points, mgl64.Vec2{at.TimeS / 60, at.TemperatureDegC})
		}
		p.Lines = append(p.Lines, line)
	}
	return p
}
