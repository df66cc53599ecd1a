package desk

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/phrase"
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
	p := report.Plot{Title: capital(c.Title), XLabel: phrase.Of("drop, mm"), YLabel: c.Title + ", " + c.Unit}
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
		for i, name := range [2]string{phrase.Of("least drop"), phrase.Of("most drop")} {
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
		add(phrase.Of("air speed"), c.AirSpeedMS, "m/s")
		add("surroundings", c.SurroundingsDegC, "°C")
		add("film", c.FilmWM2K, "W/(m² K)")
		add("for", c.Minutes, "min")
		add(phrase.Of("air settles at"), c.AirSettlesDegC, "°C")
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
	m.Together = JointText(b.s)
	for i := range r.Studies {
		st := &r.Studies[i]
		out := report.SpotStudy{
			Name: st.Name, Role: st.Role, Sentence: joined(phrase.Say(st.Sentence), PresentText(st)), LimitDegC: st.LimitDegC,
			Changes: ChangesText(st), Assumed: phrase.All(st.Assumed),
		}
		for k := range st.Spots {
			out.Spots = append(out.Spots, spotRow(&st.Spots[k]))
		}
		for _, no := range st.Refused {
			out.Refused = append(out.Refused, report.Refusal{Reason: no.Reason, Count: no.Count, Example: phrase.Say(no.Example)})
		}
		if err := b.spotPictures(i, st, &out); err != nil {
			return err
		}
		m.Spots = append(m.Spots, out)
	}
	return nil
}

// spotPictures shows all places, the best one from near, and the map of reasons.
func (b *packer) spotPictures(i int, st *spot.Study, out *report.SpotStudy) error {
	name := func(what string) string { return fmt.Sprintf("spots-%02d%s", i+1, what) }
	_, image, err := b.whole(&Attention{Page: Mounts, Study: i})
	if err != nil {
		return err
	}
	out.Picture = b.keep(name(""), image, st.Name+phrase.Of(": places by rank"))
	if len(st.Spots) > 0 {
		best := &st.Spots[0]
		pic := b.painter.Picture(b.s, &Attention{Page: Mounts, Study: i, Rank: 1})
		if image, err = b.draw(pic, facing(best.PointMM, best.Normal, placeMM), nil); err != nil {
			return err
		}
		out.Best = b.keep(name("-best"), image, st.Name+phrase.Of(" in the best place with its lead. ")+phrase.Say(best.Sentence))
	}
	if _, image, err = b.whole(&Attention{Page: Mounts, Study: i, Why: true}); err != nil {
		return err
	}
	out.Map = b.keep(name("-why"), image, st.Name+phrase.Of(": why not here? Each piece of a host has the colour of the nearest place tried"))
	return nil
}

// placeMM is the height of the picture of a place.
const placeMM = 700

// facing returns a camera that looks at a point of a surface, a little from the
// side, heightMM high.
func facing(point, normal geom.Vec, heightMM float64) render.Camera {
	const asideRad, steepRad = 0.45, 1.0
	c := render.NewCamera()
	c.Target = point
	c.AzimuthRad = math.Atan2(normal[1], normal[0]) + asideRad
	c.ElevationRad = math.Max(-steepRad, math.Min(steepRad, math.Asin(math.Max(-1, math.Min(1, normal[2])))+asideRad/2))
	c.DistMM = heightMM / 2 / math.Tan(c.FieldRad/2)
	return c
}

func spotRow(sp *spot.Spot) report.Spot {
	row := report.Spot{
		Rank: sp.Rank, Host: sp.Host, PointMM: sp.PointMM, ClearanceMM: sp.ClearanceMM, ReachMM: sp.ReachMM,
		Score: ptr(sp.Score), Verdict: verdictOf(sp.Verdict), Remark: sp.Side + phrase.Of("; score set by ") + sp.ScoredBy,
	}
	if t := sp.Temperature; t != nil {
		row.LowDegC, row.NominalDegC, row.HighDegC = &t.LowDegC, &t.NominalDegC, &t.HighDegC
	}
	if sp.SlackMM > 0 {
		row.Remark += phrase.F("; leave %.0f mm of slack", sp.SlackMM)
	}
	return row
}

func joined(one, two string) string {
	if two == "" {
		return one
	}
	return one + " " + two
}
