package sweep

import (
	"aftbay/geom"
	"aftbay/geom/dist"
)

// Turns returns the first-order rotations about the group's turn at, as far as
// halfRad goes to either side; axes without range are left out. The axes are
// those of the derivatives of Rz(yaw)·Ry(pitch)·Rx(roll). axis tells which
// entry of a Setting each one is.
func (m Motion) Turns(at, halfRad Setting) (turns []dist.Turn, axis []int) {
	yaw := geom.Turn(geom.Vec{0, 0, at[Yaw]})
	pitch := yaw.Mul3(geom.Turn(geom.Vec{0, at[Pitch], 0}))
	for k, dir := range [3]geom.Vec{pitch.Col(0), yaw.Col(1), {0, 0, 1}} {
		if half := halfRad[Roll+k]; half > 0 {
			turns = append(turns, dist.Turn{Pivot: m.Pivot, Axis: dir, HalfRad: half})
			axis = append(axis, Roll+k)
		}
	}
	return turns, axis
}
