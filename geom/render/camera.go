package render

import (
	"math"

	"aftbay/geom"
)

// Camera looks at Target from DistMM away. Azimuth 0 is the view from behind
// (the eye at +X), +90° from the right side (+Y); elevation is upward. The
// picture stays upright: Z never tilts.
type Camera struct {
	Target       geom.Vec
	AzimuthRad   float64
	ElevationRad float64 // -π/2 .. π/2
	DistMM       float64 // eye to target; with Parallel it still sets the size shown
	FieldRad     float64 // opening angle of the picture's height
	Parallel     bool
}

// defaultFieldRad is 30°: little distortion, as a long lens shows a part.
const defaultFieldRad = 30 * math.Pi / 180

// View names a standard direction.
type View int

// The standard views, in the order of their keys.
const (
	ViewCorner View = iota // from the rear right, above
	ViewRear
	ViewFront
	ViewRight
	ViewLeft
	ViewTop
	ViewBottom
)

// NewCamera returns a camera in the corner view, 3 m from the origin.
func NewCamera() Camera {
	return Camera{DistMM: 3000, FieldRad: defaultFieldRad}.Look(ViewCorner)
}

// Look returns the camera turned to a standard view; target and size stay.
func (c Camera) Look(v View) Camera {
	const deg = math.Pi / 180
	c.AzimuthRad, c.ElevationRad = 0, 0
	switch v {
	case ViewRear:
	case ViewFront:
		c.AzimuthRad = 180 * deg
	case ViewRight:
		c.AzimuthRad = 90 * deg
	case ViewLeft:
		c.AzimuthRad = -90 * deg
	case ViewTop:
		c.ElevationRad = 90 * deg
	case ViewBottom:
		c.ElevationRad = -90 * deg
	default:
		c.AzimuthRad, c.ElevationRad = 40*deg, 28*deg
	}
	return c
}

// basis returns the picture's right, up and towards-the-eye directions.
func (c Camera) basis() (right, up, back geom.Vec) {
	sa, ca := math.Sincos(c.AzimuthRad)
	se, ce := math.Sincos(c.ElevationRad)
	right = geom.Vec{-sa, ca, 0}
	up = geom.Vec{-se * ca, -se * sa, ce}
	back = geom.Vec{ce * ca, ce * sa, se}
	return right, up, back
}

// Eye returns where the camera stands.
func (c Camera) Eye() geom.Vec {
	_, _, back := c.basis()
	return c.Target.Add(back.Mul(c.DistMM))
}

// MMPerPx returns the size of a pixel at the target for a picture hPx high.
func (c Camera) MMPerPx(hPx int) float64 {
	return 2 * c.DistMM * math.Tan(c.FieldRad/2) / float64(hPx)
}

// Orbit returns the camera turned about pivot, which keeps its place on the
// picture as long as the elevation is not held at straight up or down.
func (c Camera) Orbit(pivot geom.Vec, azimuthRad, elevationRad float64) Camera {
	right, up, back := c.basis()
	arm := c.Target.Sub(pivot)
	x, y, z := arm.Dot(right), arm.Dot(up), arm.Dot(back)
	c.AzimuthRad = math.Remainder(c.AzimuthRad+azimuthRad, 2*math.Pi)
	c.ElevationRad = max(-math.Pi/2, min(math.Pi/2, c.ElevationRad+elevationRad))
	right, up, back = c.basis()
	c.Target = pivot.Add(right.Mul(x)).Add(up.Mul(y)).Add(back.Mul(z))
	return c
}

// Pan returns the camera moved so that the picture follows the pointer.
func (c Camera) Pan(dxPx, dyPx float64, hPx int) Camera {
	right, up, _ := c.basis()
	mm := c.MMPerPx(hPx)
	c.Target = c.Target.Sub(right.Mul(dxPx * mm)).Add(up.Mul(dyPx * mm))
	return c
}

// Limits of zooming: closer than 1 mm float32 depth ends, farther than 1 km
// nothing is to be seen.
const minDistMM, maxDistMM = 1, 1e6

// ZoomAt returns the camera with DistMM multiplied by ratio; what lies at the
// target's depth under the pixel (xPx, yPx) stays there.
func (c Camera) ZoomAt(xPx, yPx, ratio float64, wPx, hPx int) Camera {
	ratio = max(minDistMM/c.DistMM, min(maxDistMM/c.DistMM, ratio))
	mm := c.MMPerPx(hPx)
	right, up, _ := c.basis()
	x, y := (xPx-float64(wPx)/2)*mm, (float64(hPx)/2-yPx)*mm
	c.Target = c.Target.Add(right.Mul(x * (1 - ratio))).Add(up.Mul(y * (1 - ratio)))
	c.DistMM *= ratio
	return c
}

// Refocus returns the camera with its target moved along the line of sight to
// the depth of p. The picture does not change, but ZoomAt then holds p in place.
func (c Camera) Refocus(p geom.Vec) Camera {
	_, _, back := c.basis()
	along := p.Sub(c.Target).Dot(back)
	if c.Parallel {
		c.Target = c.Target.Add(back.Mul(along))
		return c
	}
	if c.DistMM-along < minDistMM {
		return c
	}
	c.Target = c.Target.Add(back.Mul(along))
	c.DistMM -= along
	return c
}

// Fit returns the camera moved, not turned, so that the box fills the picture
// with a small margin. An empty box changes nothing.
func (c Camera) Fit(b geom.Box, wPx, hPx int) Camera {
	if b.IsEmpty() {
		return c
	}
	corners := b.Corners()
	return c.FitPoints(corners[:], wPx, hPx)
}

// FitPoints is Fit for single points, such as Scene.Corners: closer than Fit
// where the box of all has empty corners.
func (c Camera) FitPoints(points []geom.Vec, wPx, hPx int) Camera {
	if len(points) == 0 || wPx <= 0 || hPx <= 0 {
		return c
	}
	const margin = 1.08 // keeps labels at the rim readable
	tanY := math.Tan(c.FieldRad/2) / margin
	tan := [2]float64{tanY * float64(wPx) / float64(hPx), tanY}
	axes := [3]geom.Vec{}
	axes[0], axes[1], axes[2] = c.basis()
	lean := 1.0 // how much a point nearer to the eye spreads
	if c.Parallel {
		lean = 0
	}
	// The four side planes of the picture are pushed out until all points are
	// inside; those facing each other meet where the eye has to stand.
	place := geom.Vec{2: math.Inf(-1)} // eye in picture axes; parallel: [2] is the distance
	far, near := math.Inf(1), math.Inf(-1)
	for k := range 2 {
		plus, minus := math.Inf(-1), math.Inf(-1)
		for _, p := range points {
			across, z := p.Dot(axes[k]), p.Dot(axes[2])
			plus = max(plus, across+lean*tan[k]*z)
			minus = max(minus, -across+lean*tan[k]*z)
			far, near = min(far, z), max(near, z)
		}
		place[k] = (plus - minus) / 2
		place[2] = max(place[2], (plus+minus)/2/tan[k])
	}
	depth := (far + near) / 2
	c.DistMM = place[2] - lean*depth
	c.DistMM = max(minDistMM, min(maxDistMM, c.DistMM))
	c.Target = axes[0].Mul(place[0]).Add(axes[1].Mul(place[1])).Add(axes[2].Mul(depth))
	return c
}
