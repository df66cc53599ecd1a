package drop

import "math"

// ArcApexMM returns the height of the arc that passes through the contacts of
// both tyres of an axle, contactMM to each side of the middle, and a point yMM
// beside the middle and zMM over the road: the clearance under the axle that
// the point leaves. It is 0 for points on the road and +Inf for points that no
// such arc reaches, beyond the contacts.
//
// Source: circle through (±c, 0) and (y, z): y² + z² + kz − c² = 0, apex
// H = (−k + √(k² + 4c²))/2; the arc under an axle as in UN R.E.3 and Directive
// 2007/46/EC Annex II, appendix 1 (its wording from memory).
func ArcApexMM(contactMM, yMM, zMM float64) float64 {
	if math.Abs(yMM) >= contactMM {
		return math.Inf(1)
	}
	if zMM <= 0 {
		return 0
	}
	k := (contactMM*contactMM - yMM*yMM - zMM*zMM) / zMM
	root := math.Hypot(k, 2*contactMM)
	if k > 0 {
		return 2 * contactMM * contactMM / (k + root) // the same without cancelling
	}
	return (root - k) / 2
}
