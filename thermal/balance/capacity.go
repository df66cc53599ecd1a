package balance

import (
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

// heatJK returns the heat capacity of a part: given; else its mass times the
// material's specific heat, where no thickness is given; else surface times
// thickness times density times specific heat. What is not given is assumed by
// role and noted.
func (p *part) heatJK(assumed *notes) float64 {
	if p.props.HeatCapacityJK != nil {
		return *p.props.HeatCapacityJK
	}
	usual, known := usualWalls[p.layout.Role]
	if !known {
		usual = plainWall()
	}
	solid := p.solid(usual, assumed)
	if p.layout.MassKg != nil && *p.layout.MassKg > 0 && p.props.ThicknessMM == nil {
		return *p.layout.MassKg * solid.HeatJKgK
	}
	thicknessM := usual.thicknessM
	if p.props.ThicknessMM != nil {
		thicknessM = *p.props.ThicknessMM * 1e-3
	} else {
		assumed.add("part %q: wall %.2g mm for its heat capacity, by its role (common practice, no source)", p.name, thicknessM*1e3)
	}
	return p.areaM2 * thicknessM * solid.DensityKgM3 * solid.HeatJKgK
}

// solid returns the part's bulk material: of its table entry, else by role.
func (p *part) solid(usual wall, assumed *notes) *material.Solid {
	if p.layout.Material != "" {
		if m, err := material.Find(p.layout.Material); err == nil && m.Solid != nil {
			return m.Solid
		}
	}
	m, err := material.Find(usual.solid)
	if err != nil || m.Solid == nil {
		panic("the usual wall names a solid of the table: " + usual.solid)
	}
	assumed.add("part %q: %s for its heat capacity, by its role (common practice, no source)", p.name, usual.solid)
	return m.Solid
}
