package mesh

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
)

// Measures are the size and the mass figures of a mesh at density 1, part frame.
// All but the area mean something for a closed mesh only; those of an open mesh
// are what the facets and the box centre enclose.
type Measures struct {
	AreaMM2    float64
	VolumeMM3  float64    // negative where the facets face inwards
	CentroidMM geom.Vec   // the box centre where the volume is 0
	InertiaMM5 mgl64.Mat3 // about the centroid; products enter with a minus
}

// Measure returns the measures of m, zero for an empty mesh. Each facet forms a
// tetrahedron with the box centre; the integrals of 1, x, xx and xy over it are
// exact, and the sums are compensated, so that a part far from its origin loses
// nothing.
func Measure(m *Mesh) Measures {
	if len(m.Tris) == 0 {
		return Measures{}
	}
	centre := m.Box().Center()
	var area, volume sum
	var first [3]sum  // integrals of x, y, z
	var second [6]sum // integrals of xx, yy, zz, xy, yz, zx
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		area.add(b.Sub(a).Cross(c.Sub(a)).Len() / 2)
		a, b, c = a.Sub(centre), b.Sub(centre), c.Sub(centre)
		det := a.Dot(b.Cross(c)) // six times the tetrahedron's volume
		volume.add(det / 6)
		s := a.Add(b).Add(c)
		for i := range 3 {
			j := (i + 1) % 3
			first[i].add(det / 24 * s[i])
			second[i].add(det / 120 * (a[i]*a[i] + b[i]*b[i] + c[i]*c[i] + s[i]*s[i]))
			second[3+i].add(det / 120 * (a[i]*a[j] + b[i]*b[j] + c[i]*c[j] + s[i]*s[j]))
		}
	}
	r := Measures{AreaMM2: area.value(), VolumeMM3: volume.value(), CentroidMM: centre}
	if r.VolumeMM3 == 0 {
		return r
	}
	offset := geom.Vec{first[0].value(), first[1].value(), first[2].value()}.Mul(1 / r.VolumeMM3)
	r.CentroidMM = centre.Add(offset)
	r.InertiaMM5 = inertia(second, offset, r.VolumeMM3)
	return r
}

// inertia turns second moments about the box centre into the tensor about the
// centroid, which stands at offset from there.
func inertia(second [6]sum, offset geom.Vec, volumeMM3 float64) mgl64.Mat3 {
	var own [6]float64
	for i := range 3 {
		j := (i + 1) % 3
		own[i] = second[i].value() - volumeMM3*offset[i]*offset[i]
		own[3+i] = second[3+i].value() - volumeMM3*offset[i]*offset[j]
	}
	xx, yy, zz, xy, yz, zx := own[0], own[1], own[2], own[3], own[4], own[5]
	return mgl64.Mat3{yy + zz, -xy, -zx, -xy, zz + xx, -yz, -zx, -yz, xx + yy}
}

// sum adds numbers of any size and sign with one rounding at the end.
// Bare numbers: of whatever unit is summed.
//
// Source: A. Neumaier, "Rundungsfehleranalyse einiger Verfahren zur Summation
// endlicher Summen", ZAMM 54, 1974 (from memory).
type sum struct{ total, lost float64 }

// add adds x. Bare numbers: of whatever unit is summed.
func (s *sum) add(x float64) {
	t := s.total + x
	if math.Abs(s.total) >= math.Abs(x) {
		s.lost += (s.total - t) + x
	} else {
		s.lost += (x - t) + s.total
	}
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.lost }
