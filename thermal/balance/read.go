package balance

import (
	"fmt"
	"slices"

	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/convect"
	"aftbay/thermal/material"
	"aftbay/thermal/patch"
)

// notes gathers what was assumed, each once, in order.
type notes []string

func (n *notes) add(format string, args ...any) {
	if text := fmt.Sprintf(format, args...); !slices.Contains(*n, text) {
		*n = append(*n, text)
	}
}

// usualEmissivity stands in where neither emissivity nor material is given:
// paint, plastic, rubber and oxidised steel lie around it.
const usualEmissivity = 0.9 // common practice, no source

// drawn are the roles that are drawings, not matter. Read-only.
var drawn = []string{"sightline", "road"}

// read turns the scene's parts into nodes.
func (st *study) read(s *scene.Scene) error {
	all := append(slices.Clone(s.Parts), st.options.Extra...)
	st.parts = make([]part, len(all))
	for i := range all {
		sp := &all[i]
		p := &st.parts[i]
		p.name, p.layout, p.mountTo = sp.Name, sp.Layout, -1
		p.body = patch.Body{Name: sp.Name, Pose: sp.Pose, Closed: sp.Closed}
		if !slices.Contains(drawn, sp.Role) {
			p.body.Mesh, p.body.Tree = sp.Mesh, sp.Tree
		}
		if sp.Layout.Thermal != nil {
			p.props = *sp.Layout.Thermal
		}
		if p.props.HeldDegC != nil {
			p.held, p.heldK = true, thermal.Kelvin(*p.props.HeldDegC)
		}
		if a := p.props.HeldAlong; a != nil {
			p.held = true
			if a.FromMM == a.ToMM {
				return fmt.Errorf("part %q: held_along runs from a point to itself: use held_degC for one temperature", p.name)
			}
		}
		p.areaM2 = sp.Measures.AreaMM2 * mm2ToM2
		p.film = convect.Choose(outlineOf(sp.Mesh, sp.Pose, sp.Closed, p.props))
		if m := p.props.Mount; m != nil {
			to, ok := s.Index(m.To)
			if !ok {
				return fmt.Errorf("part %q: mount to %q: no part has that name", p.name, m.To)
			}
			p.mountTo = to
		}
		if err := p.readEmissivity(&st.assumed); err != nil {
			return err
		}
	}
	return nil
}

// readEmissivity sets the emissivities: given, else the material's, else 0.9.
func (p *part) readEmissivity(assumed *notes) error {
	if p.layout.InnerEmissivity != nil {
		p.innerEmissivity = *p.layout.InnerEmissivity
	}
	if p.layout.Emissivity != nil {
		p.emissivity = *p.layout.Emissivity
		return nil
	}
	p.emissivity = usualEmissivity
	if p.layout.Material == "" {
		if p.body.Mesh != nil {
			assumed.add("part %q: emissivity %.2g, neither emissivity nor material is given", p.name, usualEmissivity)
		}
		return nil
	}
	m, err := material.Find(p.layout.Material)
	if err != nil {
		return fmt.Errorf("part %q: %w; or give its emissivity", p.name, err)
	}
	if m.Surface == nil {
		assumed.add("part %q: emissivity %.2g, the table has none for %q", p.name, usualEmissivity, m.Name)
		return nil
	}
	p.emissivity = m.Surface.TypicalEmissivity
	return nil
}

// EmissivityOf returns the typical emissivity of a material, another where the
// table knows none.
func EmissivityOf(name string, elseEmissivity float64) float64 {
	if m, err := material.Find(name); err == nil && m.Surface != nil {
		return m.Surface.TypicalEmissivity
	}
	return elseEmissivity
}
