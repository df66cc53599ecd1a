package desk

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/units"
	"aftbay/gui/report"
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
