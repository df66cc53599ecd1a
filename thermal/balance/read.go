package balance

import (
	"context"
	"slices"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/convect"
	"aftbay/thermal/material"
	"aftbay/thermal/patch"
)

// notes gathers what was assumed, each once, in order.
type notes []say.Text

func (n *notes) add(note say.Text) {
	english := note.String()
	if !slices.ContainsFunc(*n, func(t say.Text) bool { return t.String() == english }) {
		*n = append(*n, note)
	}
}

// usualEmissivity stands in where neither emissivity nor material is given:
// paint, plastic, rubber and oxidised steel lie around it.
const usualEmissivity = 0.9 // common practice, no source

// drawn are the roles that are drawings, not matter. Read-only.
var drawn = []string{"sightline", "road"}

// read turns the scene's parts into nodes.
func (st *study) read(ctx context.Context, s *scene.Scene) error {
	all := append(slices.Clone(s.Parts), st.options.Extra...)
	st.parts = make([]part, len(all))
	outlines := make([]convect.Outline, len(all))
	err := geom.Each(ctx, st.options.Workers, len(all), nil, func(i int) error {
		outlines[i] = outlineOf(all[i].Mesh, all[i].Pose, all[i].Closed, all[i].Layout.Thermal)
		return nil
	})
	if err != nil {
		return err
	}
	for i := range all {
		sp := &all[i]
		p := &st.parts[i]
		p.name, p.layout, p.mountTo, p.tables = sp.Name, sp.Layout, -1, st.tables
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
				return say.Errorf("part %q: held_along runs from a point to itself: use held_degC for one temperature", p.name)
			}
		}
		if p.heldOffK = st.spread.sourceK; p.props.HeldOffK != nil {
			p.heldOffK = *p.props.HeldOffK
		}
		p.areaM2 = sp.Measures.AreaMM2 * mm2ToM2
		p.film = convect.Choose(outlines[i])
		if m := p.props.Mount; m != nil {
			to, ok := s.Index(m.To)
			if !ok {
				return say.Errorf("part %q: mount to %q: no part has that name", p.name, m.To)
			}
			p.mountTo = to
		}
		if err := p.readEmissivity(st.spread, &st.assumed); err != nil {
			return err
		}
		if p.stands, err = standsOf(st.tables, sp.Layout.LimitDegC, sp.Layout.Material); err != nil {
			return say.Errorf("part %q: %w", p.name, err)
		}
	}
	if err := st.powersEnd(); err != nil {
		return err
	}
	return st.mountsEnd()
}

// powersEnd refuses a power that nothing takes away: no temperature balances it.
func (st *study) powersEnd() error {
	mounted := make([]bool, len(st.parts))
	for i := range st.parts {
		if to := st.parts[i].mountTo; to >= 0 {
			mounted[i], mounted[to] = true, true
		}
	}
	for i := range st.parts {
		p := &st.parts[i]
		still := p.props.FilmWM2K != nil && *p.props.FilmWM2K == 0
		if p.props.PowerW != 0 && !p.held && !mounted[i] && still && p.outer.emissivity == 0 && p.inner.emissivity == 0 {
			return say.Errorf("part %q: has a power of %g W, but emissivity and film are 0 and no mount carries it away: give one of them", p.name, p.props.PowerW)
		}
	}
	return nil
}

// mountsEnd refuses mounts that run in a circle: each would count the same heat
// path again.
func (st *study) mountsEnd() error {
	for i := range st.parts {
		at, names := st.parts[i].mountTo, say.F("%q", st.parts[i].name)
		for range st.parts {
			if at < 0 {
				break
			}
			names = say.F("%s to %q", names, st.parts[at].name)
			if at == i {
				return say.Errorf("mounts run in a circle, %s: take one away, the path between two parts is given once", names)
			}
			at = st.parts[at].mountTo
		}
	}
	return nil
}

// readEmissivity sets the emissivities: given, else the material's, else 0.9.
func (p *part) readEmissivity(sp spread, assumed *notes) error {
	if p.layout.InnerEmissivity != nil {
		p.inner = around(*p.layout.InnerEmissivity, sp.emissivity)
	}
	if p.layout.Emissivity != nil {
		p.outer = around(*p.layout.Emissivity, sp.emissivity)
		if p.layout.Material != "" {
			if _, err := p.tables.Find(p.layout.Material); err != nil {
				assumed.add(say.F("part %q: %v; its emissivity is given, all else is by its role", p.name, err))
			}
		}
		return nil
	}
	p.outer = around(usualEmissivity, sp.emissivity)
	if p.layout.Material == "" {
		if p.body.Mesh != nil {
			assumed.add(say.F("part %q: emissivity %.2g, neither emissivity nor material is given", p.name, usualEmissivity))
		}
		return nil
	}
	m, err := p.tables.Find(p.layout.Material)
	if err != nil {
		return say.Errorf("part %q: %w; or give its emissivity", p.name, err)
	}
	if m.Surface == nil {
		assumed.add(say.F("part %q: emissivity %.2g, the table has none for %q", p.name, usualEmissivity, m.Name))
		return nil
	}
	e := m.Surface
	p.outer = around(e.TypicalEmissivity, sp.emissivity)
	if sp.materials {
		p.outer = surface{lowEmissivity: e.LowEmissivity, emissivity: e.TypicalEmissivity, highEmissivity: e.HighEmissivity}
	}
	return nil
}

// EmissivityOf returns the typical emissivity of a material, another where the
// table knows none.
func EmissivityOf(t *material.Tables, name string, elseEmissivity float64) float64 {
	if m, err := t.Find(name); err == nil && m.Surface != nil {
		return m.Surface.TypicalEmissivity
	}
	return elseEmissivity
}
