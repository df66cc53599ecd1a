package spot

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/units"
)

// quarters is how many turns about the normal are tried.
const quarters = 4

// poseAt returns the component's pose on a place in one of the turns: its Z
// along the normal; its X level and along the vehicle as far as the surface
// lets it, then in quarter turns.
func poseAt(p place, turn int) geom.Pose {
	z := p.normal
	along := geom.Vec{1, 0, 0}
	if math.Abs(z[0]) > steep {
		along = geom.Vec{0, 1, 0}
	}
	x := along.Sub(z.Mul(z.Dot(along))).Normalize()
	y := z.Cross(x)
	for range turn {
		x, y = y, x.Mul(-1)
	}
	return geom.Pose{R: mgl64.Mat3FromCols(x, y, z), T: p.point}
}

// steep: a surface that faces forward or rearward more than this has no
// direction along the vehicle worth the name; a cosine.
const steep = 0.9

// turnOf returns the angles that a layout would give for a rotation:
// R = Rz·Ry·Rx, degrees.
func turnOf(r mgl64.Mat3) geom.Vec {
	sinY := math.Max(-1, math.Min(1, -r.At(2, 0)))
	rad := geom.Vec{math.Atan2(r.At(2, 1), r.At(2, 2)), math.Asin(sinY), math.Atan2(r.At(1, 0), r.At(0, 0))}
	if math.Abs(sinY) > 1-lockedSin {
		// Straight up or down only the difference of the other two counts.
		rad[0], rad[2] = 0, math.Atan2(-r.At(0, 1), r.At(1, 1))
	}
	var deg geom.Vec
	for k := range deg {
		deg[k] = math.Round(units.Deg(rad[k])/turnStepDeg)*turnStepDeg + 0 // no negative zero
	}
	return deg
}

// turnStepDeg takes rounding out of the angles; a metre away it moves nothing by
// more than 2e-8 mm.
const turnStepDeg = 1e-9

// lockedSin is how near to 1 a sine counts as 1: some 1e-5 degrees.
const lockedSin = 1e-14
