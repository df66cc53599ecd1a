package mounts

import (
	"errors"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// Case is what one load of a group comes to.
type Case struct {
	layout.Position           // from where the group is drawn
	Mounts          []Carried // in file order
	SmallTurnMM     float64   // most by which the small turn that is assumed misses the true turn at a mount
}

// Carried is what one mount carries in a case.
type Carried struct {
	Name   string
	Travel geom.Vec // from its unloaded place, mm
	ForceN geom.Vec // on the group
}

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
	cases, err := Cases(g)
	var list []layout.Position
	for _, c := range cases {
		list = append(list, c.Position)
	}
	return list, err
}

// Cases returns what every load of a group comes to, in file order. What is
// wrong comes back at once as layout.Faults, whose places start within the
// group.
func Cases(g *layout.Group) ([]Case, error) {
	b := Of(g)
	var list []Case
	var faults layout.Faults
	for i := range g.Loads {
		c, err := b.caseOf(g, &g.Loads[i])
		if errors.Is(err, ErrFree) {
			return nil, layout.Faults{{Where: "mounts", What: say.Words(err), Mend: say.Of("add a mount or a stiffness there")}}
		}
		if err != nil {
			faults = append(faults, layout.Fault{
				Where: fmt.Sprintf("loads[%d] %q", i, g.Loads[i].Name), What: say.Words(err),
				Mend: say.Of("check k_N_mm, mass_kg, drawn_g and the load, or give the position in the group's table"),
			})
			continue
		}
		list = append(list, c)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return list, nil
}

// caseOf solves one load twice: from where the group is drawn, for its place,
// and from no load, for what the mounts carry.
func (b Body) caseOf(g *layout.Group, l *layout.Load) (Case, error) {
	var drawnG geom.Vec
	if g.DrawnG != nil {
		drawnG = *g.DrawnG
	}
	moved, err := b.Under(Load{G: l.G.Sub(drawnG), TorqueNm: l.TorqueNm})
	if err != nil {
		return Case{}, err
	}
	whole, err := b.Under(Load{G: l.G, TorqueNm: l.TorqueNm})
	if err != nil {
		return Case{}, err
	}
	c := Case{Position: layout.Position{Name: l.Name, ShiftMM: moved.ShiftMM}}
	for k, turnRad := range moved.TurnRad {
		c.TurnDeg[k] = units.Deg(turnRad)
	}
	turn := geom.About(b.Pivot, geom.Turn(moved.TurnRad), moved.ShiftMM)
	for i, m := range b.Mounts {
		one := Carried{Name: g.Mounts[i].Name, Travel: whole.Travel[i]}
		if one.Name == "" {
			one.Name = say.F("mount %d", i+1).String()
		}
		for k := range 3 {
			one.ForceN[k] = 0 - m.Stiffness[k]*whole.Travel[i][k] // no minus before a zero
		}
		c.Mounts = append(c.Mounts, one)
		c.SmallTurnMM = max(c.SmallTurnMM, turn.Point(m.At).Sub(m.At).Sub(moved.Travel[i]).Len())
	}
	return c, nil
}
