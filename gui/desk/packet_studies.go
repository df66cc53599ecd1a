package desk

import (
	"fmt"
	"sort"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/units"
	"aftbay/gui/report"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

// bay returns the corners of the parts that pictures of the whole are fitted
// to: the drop group, or everything without one.
func (b *packer) bay(pic Picture) []geom.Vec {
	var out []geom.Vec
	for i := range b.s.Scene.Parts {
		p := &b.s.Scene.Parts[i]
		if b.s.Doc.Drop != nil && p.Group != b.s.Doc.Drop.Group || pic.Items[i].Hidden {
			continue
		}
		corners := p.Box.Corners()
		out = append(out, corners[:]...)
	}
	return out
}

func plotOf(c Chart) report.Plot {
	p := report.Plot{Title: c.Title, XLabel: "drop, mm", YLabel: c.Title + ", " + c.Unit}
	for _, l := range c.Lines {
		if l.Limit {
			p.Marks = append(p.Marks, report.PlotMark{Name: l.Name, Place: mgl64.Vec2{0, l.Y[0]}})
			continue
		}
		line := report.Line{Name: l.Name}
		for i := range l.X {
			line.Points = append(line.Points, mgl64.Vec2{l.X[i], l.Y[i]})
		}
		p.Lines = append(p.Lines, line)
	}
	for _, w := range c.Good {
		for i, name := range [2]string{"least drop", "most drop"} {
			p.Marks = append(p.Marks, report.PlotMark{Name: name, Upright: true, Place: mgl64.Vec2{w[i], 0}})
		}
	}
	return p
}

// heatRows is how many parts without a limit are listed, hottest first.
const heatRows = 12

func (b *packer) heat(m *report.Model) error {
	r := b.s.Answers.Heat.Value
	if r == nil {
		return nil
	}
	h := &report.Heat{Sentence: b.s.Tiles[Heats].Answer}
	for k := range r.Cases {
		c := &r.Cases[k]
		out := report.HeatCase{Name: c.Name, Conditions: conditions(b.s, c.Name)}
		if c.After == "" {
			out.BalanceW = ptr(c.SuppliedW - c.TakenW)
		}
		parts := append([]balance.PartHeat(nil), c.Parts...)
		sort.SliceStable(parts, func(i, j int) bool { return compareHeat(parts[i], parts[j]) < 0 })
		free := 0
		for i := range parts {
			if parts[i].LimitDegC == nil {
				if free++; free > heatRows {
					continue
				}
			}
			out.Rows = append(out.Rows, b.heatRow(&parts[i]))
		}
		if c.After != "" {
			out.Plots = append(out.Plots, soakPlot(parts))
		}
		pic, image, err := b.whole(&Attention{Page: Heats, Case: k})
		if err != nil {
			return err
		}
		out.Picture = &report.Picture{Name: fmt.Sprintf("heat-%02d", k+1), Image: image, Caption: c.Name + ". " + pic.Note}
		h.Cases = append(h.Cases, out)
	}
	m.Heat = h
	return nil
}

func (b *packer) heatRow(p *balance.PartHeat) report.HeatRow {
	row := report.HeatRow{
		Part: p.Name, LowDegC: p.Temperature.LowDegC, NominalDegC: p.Temperature.NominalDegC, HighDegC: p.Temperature.HighDegC,
		PeakTimeS: p.PeakTimeS, LimitDegC: p.LimitDegC, MarginK: p.MarginK, Verdict: verdictOf(p.Verdict),
	}
	if i, ok := b.s.Scene.Index(p.Name); ok {
		row.Role = b.s.Scene.Parts[i].Role
	}
	if p.LimitDegC != nil {
		row.LimitSource = "layout file"
	}
	for i, share := range p.From {
		if i == 3 {
			break
		}
		row.From = append(row.From, report.Share{Part: share.Part, Ratio: share.Share})
	}
	return row
}

// soakPlot draws the curves of the parts nearest to their limit.
func soakPlot(parts []balance.PartHeat) report.Plot {
	p := report.Plot{Title: "After key-off", XLabel: "time, min", YLabel: "temperature, °C"}
	for i := range parts {
		if len(p.Lines) == 5 || len(parts[i].Curve) < 2 {
			continue
		}
		line := report.Line{Name: parts[i].Name}
		for _, at := range parts[i].Curve {
			line.Points = append(line.Points, mgl64.Vec2{at.TimeS / 60, at.TemperatureDegC})
		}
		p.Lines = append(p.Lines, line)
	}
	p.Caption = "Nominal. " + report.Estimate
	return p
}

// conditions tells what a case assumes, from the file.
func conditions(s *State, name string) string {
	for _, c := range s.Doc.Heat.Cases {
		if c.Name != name {
			continue
		}
		text := ""
		add := func(label string, v *float64, unit string) {
			if v != nil {
				if text != "" {
					text += ", "
				}
				text += fmt.Sprintf("%s %g %s", label, *v, unit)
			}
		}
		add("air", c.AirDegC, "°C")
		add("air speed", c.AirSpeedMS, "m/s")
		add("surroundings", c.SurroundingsDegC, "°C")
		add("film", c.FilmWM2K, "W/(m² K)")
		add("for", c.Minutes, "min")
		add("air settles at", c.AirSettlesDegC, "°C")
		if c.After != "" {
			text = "after " + c.After + "; " + text
		}
		return text
	}
	return ""
}

func (b *packer) spots(m *report.Model) error {
	r := b.s.Answers.Spots.Value
	if r == nil {
		return nil
	}
	for i := range r.Studies {
		st := &r.Studies[i]
		out := report.SpotStudy{Name: st.Name, Role: st.Role, Sentence: joined(st.Sentence, PresentText(st)), LimitDegC: st.LimitDegC}
		for k := range st.Spots {
			out.Spots = append(out.Spots, spotRow(&st.Spots[k]))
		}
		for _, no := range st.Refused {
			out.Refused = append(out.Refused, report.Refusal{Reason: no.Reason, Count: no.Count})
		}
		_, image, err := b.whole(&Attention{Page: Mounts, Study: i})
		if err != nil {
			return err
		}
		out.Picture = &report.Picture{Name: fmt.Sprintf("spots-%02d", i+1), Image: image, Caption: st.Name + ": places by rank"}
		m.Spots = append(m.Spots, out)
	}
	return nil
}

func spotRow(sp *spot.Spot) report.Spot {
	row := report.Spot{
		Rank: sp.Rank, Host: sp.Host, PointMM: sp.PointMM, ClearanceMM: sp.ClearanceMM, ReachMM: sp.ReachMM,
		Score: ptr(sp.Score), Verdict: verdictOf(sp.Verdict), Remark: "score set by " + sp.ScoredBy,
	}
	if t := sp.Temperature; t != nil {
		row.LowDegC, row.NominalDegC, row.HighDegC = &t.LowDegC, &t.NominalDegC, &t.HighDegC
	}
	if sp.SlackMM > 0 {
		row.Remark += ", leave " + units.FormatMM(sp.SlackMM) + " of slack"
	}
	return row
}

func joined(one, two string) string {
	if two == "" {
		return one
	}
	return one + " " + two
}
