package scene

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/units"
)

// PoseOf returns the pose that a part's file gives it. Quarter turns come out
// exact, so that faces that were drawn flush stay flush.
func PoseOf(p *layout.Part) geom.Pose {
	turnRad := p.TurnDeg
	for k, deg := range p.TurnDeg {
		turnRad[k] = units.Rad(math.Mod(deg, 360))
	}
	r := geom.Turn(turnRad)
	for i, e := range r {
		if near := math.Round(e); math.Abs(e-near) < exactTurn {
			r[i] = near
		}
	}
	return geom.Pose{R: r, T: p.MoveMM}
}

// exactTurn is how near to 0 or ±1 an entry of a rotation is taken for it: a
// few roundings of a sine, or 1e-8 mm at ten metres.
const exactTurn = 1e-15

// posedBox returns the least box around a mesh in its place.
func posedBox(m *mesh.Mesh, pose geom.Pose) geom.Box {
	b := geom.EmptyBox()
	for _, v := range m.Verts {
		b = b.Grow(pose.Point(v))
	}
	return b
}
