package simplify

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
)

// quadric sums the squared distances from planes, each with a weight in mm2:
// x·A·x + 2·b·x + c.
type quadric struct {
	aMM2      [6]float64 // xx, yy, zz, xy, yz, zx
	bMM3      geom.Vec
	cMM4      float64
	weightMM2 float64 // of the facets; planes that hold a border are left out
}

// add adds the plane through p with a unit normal.
func (q *quadric) add(p, normal geom.Vec, weightMM2 float64) {
	offMM := -normal.Dot(p)
	for k := range 3 {
		q.aMM2[k] += weightMM2 * normal[k] * normal[k]
		q.aMM2[3+k] += weightMM2 * normal[k] * normal[(k+1)%3]
	}
	q.bMM3 = q.bMM3.Add(normal.Mul(weightMM2 * offMM))
	q.cMM4 += weightMM2 * offMM * offMM
}

// plus returns the sum of both.
func (q *quadric) plus(o *quadric) quadric {
	sum := *q
	for k := range sum.aMM2 {
		sum.aMM2[k] += o.aMM2[k]
	}
	sum.bMM3 = sum.bMM3.Add(o.bMM3)
	sum.cMM4 += o.cMM4
	sum.weightMM2 += o.weightMM2
	return sum
}

// atMM4 returns the weighted sum of the squared distances at p.
func (q *quadric) atMM4(p geom.Vec) float64 {
	a := &q.aMM2
	square := a[0]*p[0]*p[0] + a[1]*p[1]*p[1] + a[2]*p[2]*p[2] + 2*(a[3]*p[0]*p[1]+a[4]*p[1]*p[2]+a[5]*p[2]*p[0])
	return max(0, square+2*q.bMM3.Dot(p)+q.cMM4)
}

// hold is how strongly the best place is drawn to the middle of the edge, as a
// ratio to the planes' weight: enough to settle it where planes are parallel,
// too little to be seen where they are not.
const hold = 1e-6

// best returns where the sum is least, near mid where many places are alike;
// false when the numbers do not allow it.
func (q *quadric) best(mid geom.Vec) (geom.Vec, bool) {
	a := &q.aMM2
	pull := hold * (a[0] + a[1] + a[2])
	m := mgl64.Mat3{a[0] + pull, a[3], a[5], a[3], a[1] + pull, a[4], a[5], a[4], a[2] + pull}
	det := m.Det()
	if !(math.Abs(det) > 0) || math.IsInf(det, 0) {
		return mid, false
	}
	p := m.Inv().Mul3x1(mid.Mul(pull).Sub(q.bMM3))
	return p, geom.IsFinite(p)
}
