package mounts

import (
	"errors"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/units"
)

// Of returns a group of a layout as a body on its mounts. The group must have
// passed the layout's check.
func Of(g *layout.Group) Body {
	b := Body{Pivot: g.PivotMM}
	if g.MassKg != nil {
		b.MassKg = *g.MassKg
	}
	if g.CgMM != nil {
		b.CG = *g.CgMM
	}
	for _, s := range g.Mounts {
		b.Mounts = append(b.Mounts, Mount{At: s.AtMM, Stiffness: s.KNMM})
	}
	return b
}

// Positions returns where the loads of a group take it from where it is drawn,
// one named position for each load, in file order. What is wrong comes back at
// once as layout.Faults, whose places start within the group.
func Positions(g *layout.Group) ([]layout.Position, error) {
	var drawnG geom.Vec
	if g.DrawnG != nil {
		drawnG = *g.DrawnG
	}
	b := Of(g)
	var list []layout.Position
	var faults layout.Faults
	for i, l := range g.Loads {
		s, err := b.Under(Load{G: l.G.Sub(drawnG), TorqueNm: l.TorqueNm})
		if errors.Is(err, ErrFree) {
			return nil, layout.Faults{{Where: "mounts", What: err.Error(), Mend: "add a mount or a stiffness there"}}
		}
		if err != nil {
			faults = append(faults, layout.Fault{
				Where: fmt.Sprintf("loads[%d] %q", i, l.Name), What: err.Error(),
				Mend: "check k_N_mm, mass_kg, drawn_g and the load, or give the position in the group's table",
			})
			continue
		}
		p := layout.Position{Name: l.Name, ShiftMM: s.ShiftMM}
		for k, turnRad := range s.TurnRad {
			p.TurnDeg[k] = units.Deg(turnRad)
		}
		list = append(list, p)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return list, nil
}
