package spot

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/units"
)

// How many turns about the normal are tried: in the first round, and around the
// good places.
const (
	firstTurns = 4
	fineTurns  = 8
)

// poseAt returns the component's pose on a place, its Z along the normal. Turn 0
// has its X along the place's direction as far as the surface lets it; turns
// count counter-clockwise about the normal, of so many in a circle.
func poseAt(p place, turn, turns int) geom.Pose {
	z := p.normal
	along := p.along
	if along == (geom.Vec{}) {
		along = geom.Vec{1, 0, 0}
	}
	flat := along.Sub(z.Mul(z.Dot(along)))
	if flat.Len() < levelSin*along.Len() {
		flat = geom.Vec{-z[1], z[0], 0} // a host whose X stands on the surface
		if flat.Len() < levelSin {
			flat = geom.Vec{0, 1, 0}
		}
		flat = flat.Sub(z.Mul(z.Dot(flat)))
	}
	x := flat.Normalize()
	y := z.Cross(x)
	sin, cos := math.Sincos(2 * math.Pi * float64(turn) / float64(turns))
	if 4*turn%turns == 0 { // quarter turns exactly
		sin, cos = math.Round(sin), math.Round(cos)
	}
	turned := x.Mul(cos).Add(y.Mul(sin))
	return geom.Pose{R: mgl64.Mat3FromCols(turned, z.Cross(turned), z), T: p.point}
}

// turnOf returns the angles that a layout would give for a rotation:
// R = Rz·Ry·Rx, degrees.
func turnOf(r mgl64.Mat3) geom.Vec {
	rad := geom.Angles(r)
	var deg geom.Vec
	for k := range deg {
		deg[k] = math.Round(units.Deg(rad[k])/turnStepDeg)*turnStepDeg + 0 // no negative zero
	}
	return deg
}

// turnStepDeg takes rounding out of the angles; a metre away it moves nothing by
// more than 2e-8 mm.
const turnStepDeg = 1e-9
