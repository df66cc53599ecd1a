package desk

import (
	"math"

	"aftbay/geom/render"
	"aftbay/thermal/balance"
)

// showHeat colours the parts by what a heat case says of them.
func (p *Painter) showHeat(out *Picture, s *State, a *Attention) {
	r := s.Answers.Heat.Value
	if r == nil || a.Case >= len(r.Cases) {
		return
	}
	c := &r.Cases[a.Case]
	fields := p.temperatures(s, c)
	out.Field = &render.FieldScale{Title: c.Name, Unit: "°C"}
	if a.Radiation {
		fields = p.irradiation(r, a.Case)
		out.Field = &render.FieldScale{Title: c.Name + ": irradiation", Unit: "kW/m²"}
	}
	low, high := math.Inf(1), math.Inf(-1)
	held := heldParts(r, c)
	for i := range s.Scene.Parts {
		it := &out.Items[i]
		if i >= len(fields) || len(fields[i]) != len(it.Mesh.Tris) || len(fields[i]) == 0 {
			it.Ghost = true
			continue
		}
		if it.Ghost {
			continue // a coloured veil over everything would hide what it is about
		}
		it.Field = fields[i]
		if held[s.Scene.Parts[i].Name] || it.Hidden {
			continue
		}
		for _, v := range fields[i] {
			low, high = math.Min(low, float64(v)), math.Max(high, float64(v))
		}
	}
	if low > high {
		out.Field = nil
		return
	}
	out.Field.Low, out.Field.High = roundDown(low), roundUp(high)
	out.Note = "Nominal. " + r.Caution
	if a.Radiation {
		out.Note = "Nominal. " + r.Caution
	}
	if !s.Answers.Heat.Fresh {
		out.Note = "of an earlier state: computing. " + r.Caution
	}
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

// temperatures returns the nominal temperature of each part, per triangle.
func (p *Painter) temperatures(s *State, c *balance.Case) [][]float32 {
	fields := make([][]float32, len(s.Scene.Parts))
	for _, ph := range c.Parts {
		i, known := s.Scene.Index(ph.Name)
		if !known {
			continue
		}
		field := make([]float32, len(s.Scene.Parts[i].Mesh.Tris))
		for t := range field {
			field[t] = float32(ph.Temperature.NominalDegC)
		}
		fields[i] = field
	}
	return fields
}

// irradiation returns what falls on each triangle, kW/m².
func (p *Painter) irradiation(r *balance.Result, k int) [][]float32 {
	if p.heat != r {
		p.heat, p.field = r, map[int][][]float32{}
	}
	if p.field[k] == nil {
		fields := r.IrradiationField(k)
		for _, field := range fields {
			for t := range field {
				field[t] /= 1000
			}
		}
		p.field[k] = fields
	}
	return p.field[k]
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
