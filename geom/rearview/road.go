package rearview

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// roadPose takes vehicle points to the road frame: the road of an attitude of
// the car laid at z = 0, x along it. The body sinks by the attitude's figures
// at each axle; the point of the road under the zero X plane stays at x = 0.
func roadPose(v *layout.Vehicle, attitude string) (geom.Pose, error) {
	if v == nil {
		v = &layout.Vehicle{}
	}
	out := geom.Shift(geom.Vec{0, 0, -v.GroundZMM})
	if attitude == "" {
		return out, nil
	}
	for _, a := range v.Attitudes {
		if a.Name != attitude {
			continue
		}
		slope, zMM := 0.0, v.GroundZMM+a.FrontDownMM
		if base := v.RearAxleMM[0] - v.FrontAxleMM[0]; base > 0 {
			slope = (a.RearDownMM - a.FrontDownMM) / base
			zMM -= slope * v.FrontAxleMM[0]
		}
		// The road rises by slope along X: turn about Y until it is level.
		return geom.About(geom.Vec{}, geom.Turn(geom.Vec{0, math.Atan(slope), 0}), geom.Vec{}).After(geom.Shift(geom.Vec{0, 0, -zMM})), nil
	}
	return out, fault("/attitude", say.F("the vehicle has no attitude %q", attitude), say.Of("name one of vehicle.attitudes, or leave the key out for the car as drawn"))
}
