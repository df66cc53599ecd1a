package material

import (
	"slices"
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// OwnStatus marks rows that the layout brings along.
const OwnStatus = "layout file"

// For returns the tables with the layout's own rows before the built-in ones. A
// row without a figure for something takes it from the row that it is like. It
// fails when that row is not in the built-in table.
func For(doc *layout.Document) (*Tables, error) {
	if doc.Heat == nil || len(doc.Heat.Materials) == 0 {
		return All(), nil
	}
	t := *All()
	t.Emissivity, t.Solids, t.Limits = slices.Clone(t.Emissivity), slices.Clone(t.Solids), slices.Clone(t.Limits)
	for i := range doc.Heat.Materials {
		if err := t.take(&doc.Heat.Materials[i]); err != nil {
			return nil, err
		}
	}
	return &t, nil
}

// take puts one row of the layout before the others.
func (t *Tables) take(m *layout.Material) error {
	var like Material
	if m.Like != "" {
		var err error
		if like, err = All().Find(m.Like); err != nil {
			return say.Errorf("material %q: like: %w", m.Name, err)
		}
	}
	if s := surfaceFrom(m, like.Surface); s != nil {
		if like.Solid != nil {
			s.Solid = like.Solid.Name
		}
		t.Emissivity = slices.Insert(t.Emissivity, 0, *s)
	}
	if s := solidFrom(m, like.Solid); s != nil {
		t.Solids = slices.Insert(t.Solids, 0, *s)
		if t.surface(m.Name) != nil {
			t.surface(m.Name).Solid = m.Name
		}
	} else if t.surface(m.Name) == nil && m.LimitDegC == nil {
		return say.Errorf("material %q: give its emissivity, or conductivity_W_mK, density_kg_m3 and heat_J_kgK, or a row that it is like", m.Name)
	}
	if l := m.LimitDegC; l != nil {
		t.Limits = slices.Insert(t.Limits, 0, Limit{
			Item: m.Name, ContinuousDegC: l.ContinuousDegC, ShortDegC: l.PeakDegC, Source: m.Source, Status: OwnStatus,
		})
	}
	return nil
}

// surfaceFrom returns the surface of a row, nil where neither it nor what it is
// like has one.
func surfaceFrom(m *layout.Material, like *Emissivity) *Emissivity {
	s := Emissivity{Kind: "total"}
	if like != nil {
		s = *like
	}
	if e := m.Emissivity; e != nil {
		s.LowEmissivity, s.TypicalEmissivity, s.HighEmissivity = e[0], e[1], e[2]
	} else if like == nil {
		return nil
	}
	s.Name, s.Source, s.Status = m.Name, m.Source, OwnStatus
	return &s
}

// solidFrom returns the solid of a row, nil where a figure is missing.
func solidFrom(m *layout.Material, like *Solid) *Solid {
	var s Solid
	if like != nil {
		s = *like
	}
	own := false
	for _, f := range []struct{ from, to *float64 }{ // Bare numbers: of their own units
		{m.ConductivityWMK, &s.ConductivityWMK}, {m.DensityKgM3, &s.DensityKgM3}, {m.HeatJKgK, &s.HeatJKgK},
	} {
		if f.from != nil {
			*f.to, own = *f.from, true
		}
	}
	if !own || s.ConductivityWMK == 0 || s.DensityKgM3 == 0 || s.HeatJKgK == 0 {
		return nil
	}
	s.Name, s.Source, s.Status, s.Surface = m.Name, m.Source, OwnStatus, ""
	if m.Emissivity != nil || m.Like != "" {
		s.Surface = m.Name
	}
	return &s
}

// Stands is what something stands, with where that is from.
type Stands struct {
	ContinuousDegC, PeakDegC *float64
	Source                   string
	Habit                    bool // common practice, no source behind it
}

// StandsOf returns the limits of a cable class letter, a row of the limit table
// or a material; ok is false where the tables know none.
func (t *Tables) StandsOf(name string) (s Stands, ok bool) {
	for i := range t.Cables {
		if c := &t.Cables[i]; strings.EqualFold(c.Letter, strings.TrimPrefix(strings.ToLower(name), "cable class ")) {
			return Stands{ContinuousDegC: &c.MostDegC, Source: "cable class " + c.Letter + ": " + t.Origin(c.Source, c.Status)}, true
		}
	}
	for i := range t.Limits {
		if l := &t.Limits[i]; strings.EqualFold(l.Item, name) && (l.ContinuousDegC != nil || l.ShortDegC != nil) {
			return Stands{
				ContinuousDegC: l.ContinuousDegC, PeakDegC: l.ShortDegC, Habit: l.Source == "CP",
				Source: l.Item + ": " + t.Origin(l.Source, l.Status),
			}, true
		}
	}
	if item := limitOf[strings.ToLower(name)]; item != "" {
		return t.StandsOf(item)
	}
	if m, err := t.Find(name); err == nil && m.Solid != nil && !strings.EqualFold(m.Solid.Name, name) {
		return t.StandsOf(m.Solid.Name)
	}
	return Stands{}, false
}

// limitOf[solid, lower case] is the row of the limit table for a bulk material
// that stands less than metal: the less resistant kind where the name leaves it
// open. Common practice, no source. Read-only.
var limitOf = map[string]string{
	"pa66 33 percent glass": "PA66-GF33",
	"pa66 unfilled":         "PA66 plain",
	"pps-gf40":              "PPS",
	"epdm rubber":           "Coolant hose class D-1, D-2 EPDM",
	"silicone rubber":       "Silicone VMQ",
}

// LimitNames lists what StandsOf knows: rows of the limit table with a figure,
// and cable classes.
func (t *Tables) LimitNames() []string {
	var names []string
	for i := range t.Limits {
		if l := &t.Limits[i]; l.ContinuousDegC != nil || l.ShortDegC != nil {
			names = append(names, l.Item)
		}
	}
	for i := range t.Cables {
		names = append(names, t.Cables[i].Letter)
	}
	return names
}

// Fluid returns the row of the ignition table of a name. The error names the
// nearest.
func (t *Tables) Fluid(name string) (*Ignition, error) {
	names := make([]string, len(t.Ignition))
	for i := range t.Ignition {
		if names[i] = t.Ignition[i].Fluid; strings.EqualFold(names[i], name) {
			return &t.Ignition[i], nil
		}
	}
	return nil, say.Errorf("fluid %q is not in the ignition table; the nearest entry is %q", name, nearest(name, names))
}
