package balance

import (
	"aftbay/geom/say"
	"aftbay/thermal/material"
)

// wall is the usual wall of a role.
type wall struct {
	thicknessM float64
	solid      string
}

// usualWalls are taken where the layout gives neither heat capacity, mass nor
// thickness. Common practice, no source. Read-only.
var usualWalls = map[string]wall{
	"exhaust":   {0.0015, "Austenitic stainless 304/321"},
	"shield":    {0.0005, "Wrought aluminium sheet 1050/3003"},
	"engine":    {0.008, "Cast aluminium (Al-Si)"},
	"transaxle": {0.008, "Cast aluminium (Al-Si)"},
	"body":      {0.001, "Carbon steel (exhaust, brackets)"},
	"deck":      {0.001, "Wrought aluminium sheet 1050/3003"},
	"firewall":  {0.001, "Carbon steel (exhaust, brackets)"},
	"coil":      {0.005, "Epoxy potting (filled)"},
	"sensor":    {0.003, "PA66 33 percent glass"},
	"harness":   {0.002, "Copper"},
	"hose":      {0.004, "EPDM rubber"},
	"coolant":   {0.004, "EPDM rubber"},
	"fuel":      {0.003, "PA66 33 percent glass"},
	"intake":    {0.003, "PA66 33 percent glass"},
}

// plainWall is that of any other role.
func plainWall() wall { return wall{0.003, "Carbon steel (exhaust, brackets)"} }

// bulk is what lies under a part's surface.
type bulk struct {
	thicknessM float64
	solid      *material.Solid
	// What was taken by role because the layout does not say it.
	wallAssumed, solidAssumed bool
}

// wallOf returns a part's wall: given, else by role.
func (p *part) wallOf() bulk {
	usual, known := usualWalls[p.layout.Role]
	if !known {
		usual = plainWall()
	}
	w := bulk{thicknessM: usual.thicknessM, wallAssumed: true, solidAssumed: true}
	if p.props.ThicknessMM != nil {
		w.thicknessM, w.wallAssumed = *p.props.ThicknessMM*1e-3, false
	}
	if p.layout.Material != "" {
		if m, err := p.tables.Find(p.layout.Material); err == nil && m.Solid != nil {
			w.solid, w.solidAssumed = m.Solid, false
			return w
		}
	}
	m, err := material.Find(usual.solid)
	if err != nil || m.Solid == nil {
		panic("the usual wall names a solid of the table: " + usual.solid)
	}
	w.solid = m.Solid
	return w
}

// heatJK returns the heat capacity of a part: given; else its mass times the
// material's specific heat, where no thickness is given; else surface times
// thickness times density times specific heat. What is not given is assumed by
// role and noted.
func (p *part) heatJK(assumed *notes) float64 {
	if p.props.HeatCapacityJK != nil {
		return *p.props.HeatCapacityJK
	}
	w := p.wallOf()
	if w.solidAssumed {
		assumed.add(say.F("part %q: %s for its heat capacity, by its role (common practice, no source)", p.name, w.solid.Name))
	}
	if p.layout.MassKg != nil && *p.layout.MassKg > 0 && p.props.ThicknessMM == nil {
		return *p.layout.MassKg * w.solid.HeatJKgK
	}
	if w.wallAssumed {
		assumed.add(say.F("part %q: wall %.2g mm for its heat capacity, by its role (common practice, no source)", p.name, w.thicknessM*1e3))
	}
	return p.areaM2 * w.thicknessM * w.solid.DensityKgM3 * w.solid.HeatJKgK
}
