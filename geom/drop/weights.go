package drop

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// How a mass is known.
const (
	Given     = "given"
	Estimated = "estimated"
	Missing   = "missing"
)

// Density looks a material up: its density and where the figure comes from.
type Density func(material string) (kgM3 float64, source string, ok bool)

// PartMass is the mass of one part, where it comes from, and its centre.
type PartMass struct {
	Part  string    `json:"part"`
	Group string    `json:"group,omitempty"`
	Kg    *float64  `json:"mass_kg"`
	Basis string    `json:"basis"` // given, estimated, missing
	How   say.Text  `json:"how"`   // the figures it is made from, or what is missing
	CGMM  *geom.Vec `json:"cg_mm"`
}

// GroupMass is the sum over one group, "" for all parts without one.
type GroupMass struct {
	Group       string    `json:"group"`
	Kg          float64   `json:"mass_kg"`
	EstimatedKg float64   `json:"estimated_kg"` // part of it that is estimated
	CGMM        *geom.Vec `json:"cg_mm"`
	Missing     int       `json:"missing"` // parts without a mass
}

// Mass sums the drop group and lists all parts; parts without a mass are named,
// not guessed.
type Mass struct {
	GroupKg   float64     `json:"group_kg"`          // what goes down
	GroupCGMM *geom.Vec   `json:"group_cg_mm"`       // where it stands at no drop
	Basis     say.Text    `json:"basis"`             // weighed group, or sum of parts
	VehicleKg *float64    `json:"vehicle_kg"`        // nil: not known
	CGMM      *geom.Vec   `json:"cg_mm"`             // of the vehicle at no drop; nil: not known
	From      say.Text    `json:"cg_from"`           // where the vehicle's figures come from, or what is missing
	Parts     []PartMass  `json:"parts"`             // in file order
	Groups    []GroupMass `json:"groups"`            // in order of first use, all parts last
	Missing   []string    `json:"missing,omitempty"` // parts of the drop group
}

// weightless are the roles that stand for no matter. Read-only.
var weightless = map[string]bool{"sightline": true, "road": true}

// massOf returns the mass of a part: as given, else from its density and
// volume, else from its material over its volume or, with a wall thickness,
// over its area.
func massOf(p *scene.Part, density Density) PartMass {
	m := PartMass{Part: p.Name, Group: p.Group, Basis: Missing}
	cg := p.Pose.Point(p.Measures.CentroidMM)
	m.CGMM = &cg
	set := func(kg float64, basis string, how say.Text) PartMass {
		m.Kg, m.Basis, m.How = &kg, basis, how
		return m
	}
	if p.Layout.MassKg != nil {
		return set(*p.Layout.MassKg, Given, say.Of("mass_kg in the layout file"))
	}
	volumeM3 := math.Abs(p.Measures.VolumeMM3) * 1e-9
	if d := p.Layout.DensityKgM3; d != nil && p.Closed {
		return set(volumeM3**d, Estimated, say.F("%s of envelope at %g kg/m³, density_kg_m3", units.FormatCM3(volumeM3*1e9), *d))
	}
	kgM3, source, known := 0.0, "", false
	if density != nil && p.Layout.Material != "" {
		kgM3, source, known = density(p.Layout.Material)
	}
	thick := p.Layout.Thermal != nil && p.Layout.Thermal.ThicknessMM != nil
	switch {
	case known && thick:
		tMM := *p.Layout.Thermal.ThicknessMM
		return set(p.Measures.AreaMM2*tMM*1e-9*kgM3, Estimated, say.F("%s of surface, %s thick, at %g kg/m³ (%s)", units.FormatMM2(p.Measures.AreaMM2), units.FormatMM(tMM), kgM3, source))
	case known && p.Closed:
		return set(volumeM3*kgM3, Estimated, say.F("%s of envelope as if solid at %g kg/m³ (%s): too heavy where it is hollow", units.FormatCM3(volumeM3*1e9), kgM3, source))
	case !p.Closed:
		m.How = say.Of("an open sheet: give mass_kg, or material and thermal.thickness_mm")
	default:
		m.How = say.Of("give mass_kg, or density_kg_m3")
	}
	return m
}

// weigh sums the parts.
func weigh(s *scene.Scene, group string, density Density) Mass {
	m := Mass{Basis: say.Of("sum of its parts"), Parts: []PartMass{}, Groups: []GroupMass{}}
	number := map[string]int{}
	sums := []*heap{}
	all := &heap{GroupMass: GroupMass{Group: AllParts}}
	for i := range s.Parts {
		p := &s.Parts[i]
		if weightless[p.Role] {
			continue
		}
		row := massOf(p, density)
		m.Parts = append(m.Parts, row)
		k, known := number[p.Group]
		if !known {
			k = len(sums)
			number[p.Group] = k
			sums = append(sums, &heap{GroupMass: GroupMass{Group: p.Group}})
		}
		sums[k].add(&row)
		all.add(&row)
		if p.Group == group && row.Kg == nil {
			m.Missing = append(m.Missing, p.Name)
		}
	}
	for _, h := range append(sums, all) {
		g := h.done()
		m.Groups = append(m.Groups, g)
		if g.Group == group && h != all {
			m.GroupKg, m.GroupCGMM = g.Kg, g.CGMM
		}
	}
	if g := s.Group(group); g != nil && g.MassKg != nil {
		m.GroupKg, m.Basis = *g.MassKg, say.Of("mass_kg of the group in the layout file")
		if g.CgMM != nil {
			m.GroupCGMM = g.CgMM
		}
	}
	m.vehicle(s, all)
	return m
}

// vehicle fills in what is known of the whole car.
func (m *Mass) vehicle(s *scene.Scene, all *heap) {
	v := s.Doc.Vehicle
	switch {
	case v != nil && v.MassKg > 0 && v.CgMM != nil:
		m.VehicleKg, m.CGMM, m.From = &v.MassKg, v.CgMM, say.Of("vehicle mass_kg and cg_mm in the layout file")
	case v != nil && v.CgMM != nil && v.MassKg == 0:
		m.From = say.Of("vehicle cg_mm is given but not its mass_kg: give it")
	case all.GroupMass.Missing > 0:
		m.From = say.F("%d parts have no mass: give vehicle mass_kg and cg_mm, or the masses of all parts", all.GroupMass.Missing)
	case all.Kg == 0:
		m.From = say.Of("no part has a mass: give vehicle mass_kg and cg_mm")
	default:
		g := all.done()
		m.VehicleKg, m.CGMM, m.From = &g.Kg, g.CGMM, say.Of("sum of all parts: right only if the layout holds the whole car")
	}
}

// heap is a sum in the making.
type heap struct {
	GroupMass
	moment geom.Vec // Bare numbers: kg mm
}

func (h *heap) add(row *PartMass) {
	if row.Kg == nil {
		h.Missing++
		return
	}
	h.Kg += *row.Kg
	if row.Basis == Estimated {
		h.EstimatedKg += *row.Kg
	}
	h.moment = h.moment.Add(row.CGMM.Mul(*row.Kg))
}

func (h *heap) done() GroupMass {
	if h.Kg > 0 {
		cg := h.moment.Mul(1 / h.Kg)
		h.CGMM = &cg
	}
	return h.GroupMass
}

// YawInertiaChangeKgM2 returns by how much the inertia of a vehicle about its
// upright axis through its own centre of gravity grows when a part of it moves:
// m(|p₁|² − |p₀|²) − M(|c₁|² − |c₀|²), all in plan.
//
// Source: parallel axes, any mechanics textbook.
func YawInertiaChangeKgM2(vehicle geom.Vec, massKg float64, part geom.Vec, movedKg float64, shift geom.Vec) float64 {
	plan2 := func(v geom.Vec) float64 { return float64(v[0]*v[0]) + float64(v[1]*v[1]) } // Bare numbers: mm²
	// About the vehicle's first centre, so that little is taken from little.
	p0 := part.Sub(vehicle)
	p1 := p0.Add(shift)
	c1 := shift.Mul(movedKg / massKg)
	return (movedKg*(plan2(p1)-plan2(p0)) - massKg*plan2(c1)) * 1e-6
}
