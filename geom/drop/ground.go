package drop

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// Road is the ground in one attitude of the vehicle, as seen by the body.
type Road struct {
	groundZMM, frontXMM float64
	frontDownMM, perMM  float64 // body down at the front axle, and per mm rearward
	cos                 float64 // of the tilt: vertical height to height square to the road
}

// NewRoad returns the road of an attitude. With both axles at one place the
// body only sinks.
func NewRoad(v *layout.Vehicle, a layout.Attitude) Road {
	r := Road{groundZMM: v.GroundZMM, frontXMM: v.FrontAxleMM[0], frontDownMM: a.FrontDownMM, cos: 1}
	if base := v.RearAxleMM[0] - v.FrontAxleMM[0]; base != 0 {
		r.perMM = (a.RearDownMM - a.FrontDownMM) / base
		r.cos = 1 / math.Hypot(1, r.perMM)
	}
	return r
}

// VerticalMM returns the height of a body point straight above the road.
func (r Road) VerticalMM(p geom.Vec) float64 {
	return p[2] - r.groundZMM - (r.frontDownMM + r.perMM*(p[0]-r.frontXMM))
}

// HeightMM returns the height of a body point square to the road.
func (r Road) HeightMM(p geom.Vec) float64 { return r.VerticalMM(p) * r.cos }

// DownMM returns how far a body point may go down until its height square to
// the road is leastMM; negative where it is lower already.
func (r Road) DownMM(p geom.Vec, leastMM float64) float64 { return r.VerticalMM(p) - leastMM/r.cos }

// TangentRad returns the angle of the steepest plane that touches the tyre and
// passes a point a mm beyond the axle's contact and h mm above the ground: the
// departure (or approach) angle of that point. It is π/2 for points that no
// plane from the tyre's lower half can reach, 0 for points on the ground.
//
// Source: plane tangent to a circle of radius R standing on the ground,
// tan(q/2) = (a − √(a² − (2Rh − h²))) / (2R − h).
func TangentRad(tyreMM, aMM, hMM float64) float64 {
	if hMM <= 0 {
		return 0
	}
	rest := aMM*aMM - (2*tyreMM*hMM - hMM*hMM)
	if aMM <= 0 || rest < 0 || hMM >= 2*tyreMM {
		return math.Pi / 2
	}
	return 2 * math.Atan((aMM-math.Sqrt(rest))/(2*tyreMM-hMM))
}

// ContactRad returns the textbook short form of the same angle, from the
// contact point instead of the tangent: always the smaller one.
func ContactRad(aMM, hMM float64) float64 { return math.Atan2(math.Max(hMM, 0), aMM) }

// Angle is a departure or ramp angle with the point that governs it.
type Angle struct {
	TangentRad float64 // by the tyre tangent
	ContactRad float64 // short form, of its own governing point
	Point      geom.Vec
	Part       string
}

// angleOf is one of the angles under the car: which stretch of the body counts
// and what a point a mm behind the front axle's and h mm over the road leaves.
type angleOf struct {
	fromMM, toMM, towardsMM float64
	straight                bool
	tangentRad, contactRad  func(p point2) float64
}

// departureOf is for points behind the rear axle.
func departureOf(v *layout.Vehicle) angleOf {
	rearMM, groundMM := v.RearAxleMM[0], v.GroundZMM
	return angleOf{
		fromMM: rearMM, toMM: math.Inf(1), towardsMM: math.Inf(1), straight: true,
		tangentRad: func(p point2) float64 { return TangentRad(v.TyreRadiusMM, p[0]-rearMM, p[1]-groundMM) },
		contactRad: func(p point2) float64 { return ContactRad(p[0]-rearMM, p[1]-groundMM) },
	}
}

// rampOf is for points between the axles: the sum of both sides' angles.
func rampOf(v *layout.Vehicle) angleOf {
	frontMM, rearMM, groundMM := v.FrontAxleMM[0], v.RearAxleMM[0], v.GroundZMM
	both := func(p point2, one func(aMM, hMM float64) float64) float64 { // Bare numbers: rad
		return one(p[0]-frontMM, p[1]-groundMM) + one(rearMM-p[0], p[1]-groundMM)
	}
	return angleOf{
		fromMM: frontMM, toMM: rearMM, towardsMM: (frontMM + rearMM) / 2,
		tangentRad: func(p point2) float64 {
			return both(p, func(aMM, hMM float64) float64 { return TangentRad(v.TyreRadiusMM, aMM, hMM) })
		},
		contactRad: func(p point2) float64 { return both(p, ContactRad) },
	}
}
