package sweep

import (
	"aftbay/geom"
	"aftbay/geom/dist"
)

// Turns returns the rotations about the group's turn at, as far as halfRad goes
// to either side: Rz(yaw)·Ry(pitch)·Rx(roll) is Rz·Ry·Rx of at, then a turn of
// the roll beyond at about at's own roll axis, then of the pitch, then of the
// yaw. The shifts are ignored.
func (m Motion) Turns(at, halfRad Setting) dist.Turns {
	yaw := geom.Turn(geom.Vec{0, 0, at[Yaw]})
	pitch := yaw.Mul3(geom.Turn(geom.Vec{0, at[Pitch], 0}))
	t := dist.Turns{Pivot: m.Pivot}
	for k, axis := range [3]geom.Vec{pitch.Col(0), yaw.Col(1), {0, 0, 1}} {
		t.About[k] = dist.Turn{Axis: axis, HalfRad: halfRad[Roll+k]}
	}
	return t
}
