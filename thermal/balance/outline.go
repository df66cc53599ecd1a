package balance

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/thermal/convect"
)

const (
	mmToM   = 1e-3
	mm2ToM2 = 1e-6
	mm3ToM3 = 1e-9
)

// outlineOf returns what the choice of a film needs to know of a part.
func outlineOf(m *mesh.Mesh, pose geom.Pose, closed bool, props *layout.Thermal) convect.Outline {
	size := m.Box().Size()
	measures := mesh.Measure(m)
	o := convect.Outline{AreaM2: measures.AreaMM2 * mm2ToM2}
	if closed {
		o.VolumeM3 = math.Abs(measures.VolumeMM3) * mm3ToM3
	}
	for k := range 3 {
		axis := geom.Vec{}
		axis[k] = 1
		o.EdgesM[k], o.UpCos[k] = size[k]*mmToM, math.Abs(pose.Dir(axis)[2])
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range m.Verts {
		z := pose.Point(v)[2]
		low, high = math.Min(low, z), math.Max(high, z)
	}
	o.HeightM = math.Max(0, high-low) * mmToM
	line, share := facing(m)
	o.FlatShare, o.FlatUpCos = share, math.Abs(pose.Dir(line)[2])
	if props != nil && props.LengthMM != nil {
		o.GivenM = *props.LengthMM * mmToM
	}
	return o
}

// facingPasses of the power method find the line well enough to tell a plate.
const facingPasses = 60

// facing returns the line along which most of the surface faces, part frame,
// and the share that does: the largest eigenvalue of the mean of n·nᵀ.
func facing(m *mesh.Mesh) (line geom.Vec, share float64) {
	var sum mgl64.Mat3
	var areaMM2 float64
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		cross := b.Sub(a).Cross(c.Sub(a))
		if l := cross.Len(); l > 0 {
			areaMM2 += l
			sum = sum.Add(cross.OuterProd3(cross).Mul(1 / l))
		}
	}
	if areaMM2 == 0 {
		return geom.Vec{0, 0, 1}, 0
	}
	sum = sum.Mul(1 / areaMM2)
	line = geom.Vec{0.48, 0.6, 0.64} // along no likely axis
	for range facingPasses {
		next := sum.Mul3x1(line)
		if share = next.Len(); share == 0 {
			break
		}
		line = next.Mul(1 / share)
	}
	return line, share
}
