package geom

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Vec is a point or direction, [x, y, z], mm where it is a point.
type Vec = mgl64.Vec3

// Pose is a rigid placement: a part point p stands at R·p + T.
// R is a rotation (orthonormal, determinant +1), T is in mm.
type Pose struct {
	R mgl64.Mat3
	T Vec
}

// Identity returns the pose that moves nothing.
func Identity() Pose { return Pose{R: mgl64.Ident3()} }

// Shift returns the pose that only translates by t.
func Shift(t Vec) Pose { return Pose{R: mgl64.Ident3(), T: t} }

// Turn returns Rz(z)·Ry(y)·Rx(x): about the fixed X axis first, then Y, then Z.
// Each component of turnRad is an angle in radians.
func Turn(turnRad Vec) mgl64.Mat3 {
	return mgl64.Rotate3DZ(turnRad[2]).Mul3(mgl64.Rotate3DY(turnRad[1])).Mul3(mgl64.Rotate3DX(turnRad[0]))
}

// lockedSin is how near to 1 a sine counts as 1 when angles are taken from a
// rotation: some 1e-5 degrees.
const lockedSin = 1e-14

// Angles returns the angles in radians that Turn makes a rotation of. Where Y is
// a right angle only the difference of the other two counts: X is 0 then.
func Angles(r mgl64.Mat3) (turnRad Vec) {
	sinY := math.Max(-1, math.Min(1, -r.At(2, 0)))
	if math.Abs(sinY) > 1-lockedSin {
		return Vec{0, math.Asin(sinY), math.Atan2(-r.At(0, 1), r.At(1, 1))}
	}
	return Vec{math.Atan2(r.At(2, 1), r.At(2, 2)), math.Asin(sinY), math.Atan2(r.At(1, 0), r.At(0, 0))}
}

// About returns the pose that turns by r about the point pivot, then shifts by t.
func About(pivot Vec, r mgl64.Mat3, t Vec) Pose {
	return Pose{R: r, T: pivot.Sub(r.Mul3x1(pivot)).Add(t)}
}

// Point returns the vehicle point of a part point.
func (p Pose) Point(partPoint Vec) Vec {
	r, x, y, z := &p.R, partPoint[0], partPoint[1], partPoint[2] // columns one after another
	return Vec{r[0]*x + r[3]*y + r[6]*z + p.T[0], r[1]*x + r[4]*y + r[7]*z + p.T[1], r[2]*x + r[5]*y + r[8]*z + p.T[2]}
}

// Dir returns the vehicle direction of a part direction; lengths are kept.
func (p Pose) Dir(partDir Vec) Vec { return p.R.Mul3x1(partDir) }

// Inverse returns the pose that undoes p.
func (p Pose) Inverse() Pose {
	rt := p.R.Transpose()
	return Pose{R: rt, T: rt.Mul3x1(p.T).Mul(-1)}
}

// After returns the pose that applies first, then p: (p∘first)(x) = p(first(x)).
func (p Pose) After(first Pose) Pose {
	return Pose{R: p.R.Mul3(first.R), T: p.R.Mul3x1(first.T).Add(p.T)}
}

// IsFinite reports whether every number of v is neither NaN nor infinite.
func IsFinite(v Vec) bool {
	for _, c := range v {
		if math.IsNaN(c) || math.IsInf(c, 0) {
			return false
		}
	}
	return true
}
