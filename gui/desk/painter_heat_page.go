package desk

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// showHeat colours the parts by what a heat case says of them and leads arrows
// from the strongest sources to the chosen part.
func (p *Painter) showHeat(out *Picture, s *State, a *Attention) {
	s = WithShield(s, a)
	r := s.Answers.Heat.Value
	if r == nil || a.Case < 0 || a.Case >= len(r.Cases) {
		return
	}
	c := &r.Cases[a.Case]
	given := heldParts(r, c)
	hottest, top := float32(math.Inf(-1)), float32(math.Inf(1))
	low, high := float32(math.Inf(1)), float32(math.Inf(-1))
	for i := range s.Scene.Parts {
		it := &out.Items[i]
		f := p.heatField(s, a, &s.Scene.Parts[i])
		if len(f.values) == 0 {
			it.Ghost = true
			continue
		}
		if it.Hidden || it.Ghost { // a coloured veil over everything would hide what it is about
			continue
		}
		it.Mesh, it.Edges, it.Field = f.mesh, f.edges, f.values
		hottest, top = max(hottest, f.high), f.top
		if given[s.Scene.Parts[i].Name] {
			continue
		}
		low, high = min(low, f.low), max(high, f.high)
	}
	if low > high {
		return
	}
	p.showTrial(out, s, a)
	out.Field = heatScale(c, a, low, min(high, top))
	if hottest > out.Field.High {
		out.Field.Foot = "hottest " + scaleText(hottest, out.Field.Unit)
	}
	if part := chosenPart(s, a); part != nil {
		if part.LimitDegC != nil && a.Heat != Irradiated {
			out.Field.Marks = []render.ScaleMark{{Value: float32(*part.LimitDegC), Text: "limit " + units.NumberDegC(*part.LimitDegC)}}
		}
		out.Overlay.Flows = flows(s, part)
	}
	if out.Field.Faded = !s.Answers.Heat.Fresh && !s.Answers.Heat.Rough; out.Field.Faded {
		out.Overlay.Flows = nil // they would point at where the parts were
	}
	out.Note = heatNote(s, a, len(out.Overlay.Flows) > 0) + HeatCaution
}

// heatNote says what is to be known to read the picture; arrows: it has some.
func heatNote(s *State, a *Attention, arrows bool) string {
	h := &s.Answers.Heat
	switch {
	case !h.Fresh && !h.Rough:
		return phrase.Of("Of an earlier state: computing. ")
	case h.Err != nil:
		return phrase.Of("Coarse only: cancelled. ")
	case !h.Fresh:
		return phrase.Of("Coarse, refining. ")
	}
	note := "Nominal. "
	if s.Answers.Shield.Value != nil && !a.Without {
		note = phrase.Of("Nominal, with the shield on trial. ")
	}
	if a.Timed && arrows {
		note += phrase.Of("Arrows: shares when the part is hottest. ")
	}
	return note
}

// showTrial adds the sheet of a shield on trial. It leaves the scale alone: hot
// as it may be, it takes the top colour.
func (p *Painter) showTrial(out *Picture, s *State, a *Attention) {
	t := s.Answers.Shield.Value
	if t == nil || a.Without {
		return
	}
	sheet := scene.Part{Name: t.Name, Shape: scene.Shape{Mesh: t.Mesh}, Pose: geom.Identity()}
	f := p.heatField(s, a, &sheet)
	if len(f.values) == 0 {
		return
	}
	out.Items = append(out.Items, render.Item{Mesh: f.mesh, Edges: f.edges, Pose: sheet.Pose, Color: render.AccentColor, Field: f.values, Selected: true})
	out.Parts = append(out.Parts, "")
}

// heatScale returns the colour scale of a heat picture between round ends.
func heatScale(c *balance.Case, a *Attention, low, high float32) *render.FieldScale {
	f := &render.FieldScale{Low: roundDown(float64(low)), High: roundUp(float64(high)), Unit: "°C"}
	f.Title = c.Name + "\n" + heatWords[a.Heat]
	if a.Heat == Irradiated {
		f.Unit = "kW/m²"
	}
	switch {
	case c.After == "":
	case a.Timed || a.Heat != PartTemperature:
		f.Title += "\n" + units.FormatMin(a.TimeS) + phrase.Of(" after key-off")
	default:
		f.Title += phrase.Of("\npeaks after key-off")
	}
	return f
}

// scaleText writes a value as a heat scale does. Bare numbers: value in unit.
func scaleText(value float32, unit string) string {
	if unit == "°C" {
		return units.FormatDegC(float64(value))
	}
	return units.FormatWM2(float64(value) * 1000)
}

// chosenPart returns what is known of the selected part in the case looked at.
func chosenPart(s *State, a *Attention) *balance.PartHeat {
	if len(a.Selected) == 0 {
		return nil
	}
	return partHeat(s, a.Case, a.Selected[0])
}

// flowsShown is how many sources get an arrow; weaker ones would hide the part.
const (
	flowsShown = 4
	leastFlow  = 0.03
)

// flows returns arrows from the strongest sources of a part to where most falls
// on it, each from the point of the source that is nearest to there.
func flows(s *State, part *balance.PartHeat) []render.Flow {
	to := part.Irradiation.PeakAtMM
	var out []render.Flow
	for _, from := range part.From {
		i, known := s.Scene.Index(from.Part)
		if len(out) == flowsShown || from.Share < leastFlow {
			break
		}
		if !known || from.Part == part.Name {
			continue
		}
		out = append(out, render.Flow{
			From: nearestOf(&s.Scene.Parts[i], to), To: to, Share: from.Share,
			Text: from.Part + " " + wholePercent(from.Share), Color: render.AccentColor,
		})
	}
	return out
}

// nearestOf returns the point of a posed part that is nearest to a point.
func nearestOf(part *scene.Part, to geom.Vec) geom.Vec {
	near, ok := part.Tree.Nearest(part.Pose.Inverse().Point(to), math.Inf(1))
	if !ok {
		return part.Box.Center()
	}
	return part.Pose.Point(near.Point)
}

// heldParts names the parts whose temperature is given, in a soak those of the
// case before: they would stretch the scale until nothing else could be told
// apart.
func heldParts(r *balance.Result, c *balance.Case) map[string]bool {
	held := map[string]bool{}
	for k := range r.Cases {
		if r.Cases[k].Name == c.After {
			c = &r.Cases[k]
		}
	}
	for i := range c.Parts {
		if c.Parts[i].Held {
			held[c.Parts[i].Name] = true
		}
	}
	return held
}

// scaleStep is what the ends of a colour scale are rounded to: tens above ten.
// Bare numbers: in the unit of the scale.
func scaleStep(value float64) float64 {
	if math.Abs(value) > 10 {
		return 10
	}
	return 1
}

// roundDown and roundUp round to a scale's step. Bare numbers: as scaleStep.
func roundDown(value float64) float32 {
	step := scaleStep(value)
	return float32(math.Floor(value/step) * step)
}

// roundUp is roundDown the other way. Bare numbers: as scaleStep.
func roundUp(value float64) float32 {
	step := scaleStep(value)
	return float32(math.Ceil(value/step) * step)
}
