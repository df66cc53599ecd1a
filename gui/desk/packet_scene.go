package desk

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/gui/report"
	"aftbay/thermal/balance"
)

// scene places the parts for the views that a reader can turn.
func (b *packer) scene(m *report.Model) error {
	s := &report.Scene{}
	var hot map[string]*balance.PartHeat
	if r := b.s.Answers.Heat.Value; r != nil && len(r.Cases) > 0 {
		s.HeatCase, hot = r.Cases[0].Name, partsOf(&r.Cases[0])
	}
	low, high := heatSpan(hot)
	if len(hot) > 0 {
		s.HeatScale = heatTints(low, high)
	}
	worst := b.worst()
	tints := roleTints(b.s.Scene.Parts)
	for i := range b.s.Scene.Parts {
		p := &b.s.Scene.Parts[i]
		if p.Role == keepOut || len(p.Mesh.Tris) == 0 {
			continue
		}
		placed := &mesh.Mesh{Verts: make([]geom.Vec, len(p.Mesh.Verts)), Tris: p.Mesh.Tris}
		for k, v := range p.Mesh.Verts {
			placed.Verts[k] = p.Pose.Point(v)
		}
		body := report.Body{
			Name: p.Name, Role: p.Role, Mesh: placed, Ghost: slices.Contains(shells, p.Role),
			Colour: channels(render.Swatch(tints[p.Role])), Verdict: verdictOf(worst[p.Name]),
		}
		if h := hot[p.Name]; h != nil {
			body.NominalDegC = ptr(h.Temperature.NominalDegC)
			body.HeatColour = channels(render.ScaleColor((h.Temperature.NominalDegC - low) / (high - low)))
		}
		s.Bodies = append(s.Bodies, body)
	}
	m.Scene = s
	return nil
}

// heatTints is the scale of colours from the coldest to the hottest part.
func heatTints(lowDegC, highDegC float64) []report.HeatTint {
	const steps = 16 // between them a straight mix of colours is not told from the scale
	var out []report.HeatTint
	for i := range steps + 1 {
		share := float64(i) / steps
		out = append(out, report.HeatTint{AtDegC: lowDegC + share*(highDegC-lowDegC), Colour: channels(render.ScaleColor(share))})
	}
	return out
}

func channels(c render.RGB) [3]uint8 { return [3]uint8{c.R, c.G, c.B} }

// worst returns the verdict of the most pressing finding of each part.
func (b *packer) worst() map[string]string {
	out := map[string]string{}
	if b.s.Answers.Fit.Value == nil {
		return out
	}
	for _, p := range Pressing(b.s.Answers.Fit.Value) {
		for _, name := range []string{p.A, p.B} {
			if _, told := out[name]; !told && p.Verdict != clearance.NoRule {
				out[name] = p.Verdict
			}
		}
	}
	return out
}

func partsOf(c *balance.Case) map[string]*balance.PartHeat {
	out := map[string]*balance.PartHeat{}
	for i := range c.Parts {
		out[c.Parts[i].Name] = &c.Parts[i]
	}
	return out
}

// heatSpan returns the coldest and the hottest nominal temperature, °C, some
// way apart even where there is one part alone.
func heatSpan(parts map[string]*balance.PartHeat) (lowDegC, highDegC float64) {
	first := true
	for _, p := range parts {
		t := p.Temperature.NominalDegC
		if first {
			lowDegC, highDegC, first = t, t, false
		}
		lowDegC, highDegC = min(lowDegC, t), max(highDegC, t)
	}
	return lowDegC, max(highDegC, lowDegC+1)
}
