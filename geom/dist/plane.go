package dist

import "aftbay/geom/bvh"

// apartSteps is how many planes planeBetween tries. Measured: three tell nine of ten
// pairs apart that can be told at all, a fourth one in sixty more.
const apartSteps = 4

// planeBetween reports whether it is easily seen, to within rounding, that two triangles
// stand at least atLeastMM apart; false says nothing.
//
// Method: v is a difference of two points of the triangles. The planes across v
// through the corner of each that reaches furthest towards the other bound the
// distance from below; if that is not enough, v moves to the point nearest to the
// origin between itself and the difference of those corners.
//
// Source: E. Gilbert, "An iterative procedure for computing the minimum of a
// quadratic form on a convex set", SIAM J. Control 4(1), 1966 (from memory).
//
// Long on purpose: a kernel, every coordinate in a register.
func planeBetween(a, b *bvh.Triangle, atLeastMM float64) bool {
	const third = 1.0 / 3
	vx := (a[0][0] + a[1][0] + a[2][0] - b[0][0] - b[1][0] - b[2][0]) * third
	vy := (a[0][1] + a[1][1] + a[2][1] - b[0][1] - b[1][1] - b[2][1]) * third
	vz := (a[0][2] + a[1][2] + a[2][2] - b[0][2] - b[1][2] - b[2][2]) * third
	for range apartSteps {
		// The corners that reach furthest.
		least, i := vx*a[0][0]+vy*a[0][1]+vz*a[0][2], 0
		if x := vx*a[1][0] + vy*a[1][1] + vz*a[1][2]; x < least {
			least, i = x, 1
		}
		if x := vx*a[2][0] + vy*a[2][1] + vz*a[2][2]; x < least {
			least, i = x, 2
		}
		most, j := vx*b[0][0]+vy*b[0][1]+vz*b[0][2], 0
		if x := vx*b[1][0] + vy*b[1][1] + vz*b[1][2]; x > most {
			most, j = x, 1
		}
		if x := vx*b[2][0] + vy*b[2][1] + vz*b[2][2]; x > most {
			most, j = x, 2
		}
		// Between the planes lie (least - most) / |v|.
		v2 := vx*vx + vy*vy + vz*vz
		if gap := least - most; gap > 0 && gap*gap > 0 && gap*gap >= atLeastMM*atLeastMM*v2 {
			return true
		}
		// On from v towards the difference of the corners.
		ex, ey, ez := vx-(a[i][0]-b[j][0]), vy-(a[i][1]-b[j][1]), vz-(a[i][2]-b[j][2])
		on, e2 := vx*ex+vy*ey+vz*ez, ex*ex+ey*ey+ez*ez
		if !(on > 0) {
			return false // v is nearest to the origin
		}
		t := min(on/e2, 1)
		vx, vy, vz = vx-t*ex, vy-t*ey, vz-t*ez
	}
	return false
}
