package sweep

import (
	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/units"
)

// MotionOf returns a group's motion in mm and radians; a nil group, or one
// without motion and positions, stays put.
func MotionOf(g *layout.Group, named []layout.Position) Motion {
	if g == nil {
		return Motion{}
	}
	m := Motion{Pivot: g.PivotMM}
	if box := g.Motion; box != nil {
		m.HasRange = true
		ranges := [axes]layout.Range{
			box.XMM, box.YMM, box.ZMM, inRad(box.RollDeg), inRad(box.PitchDeg), inRad(box.YawDeg),
		}
		for k, r := range ranges {
			m.Lo[k], m.Hi[k] = r[0], r[1]
		}
	}
	for _, p := range named {
		turn := geom.Vec{units.Rad(p.TurnDeg[0]), units.Rad(p.TurnDeg[1]), units.Rad(p.TurnDeg[2])}
		m.Named = append(m.Named, Named{p.Name, Setting{
			p.ShiftMM[0], p.ShiftMM[1], p.ShiftMM[2], turn[0], turn[1], turn[2],
		}})
	}
	return m
}

func inRad(deg layout.Range) layout.Range { return layout.Range{units.Rad(deg[0]), units.Rad(deg[1])} }
