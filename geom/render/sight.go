package render

import (
	"math"

	"aftbay/geom"
)

// sized returns the projection onto a picture of a size, in any unit of length.
// Nothing is cut off in front of the eye when parallel.
func (c Camera) sized(widthPx, heightPx float64) view {
	v := newView(c, geom.EmptyBox(), 1, 1)
	v.midXPx, v.midYPx = widthPx/2, heightPx/2
	v.scalePx = v.midYPx / math.Tan(c.FieldRad/2)
	if c.Parallel {
		v.nearMM = math.Inf(-1)
	}
	return v
}

// Sight returns the line of sight through a place of a picture: a point on it and
// its unit direction, into the scene. It starts at the eye; when parallel, in the
// plane of the eye.
func (c Camera) Sight(xPx, yPx, widthPx, heightPx float64) (from, dir geom.Vec) {
	v := c.sized(widthPx, heightPx)
	if c.Parallel {
		v.nearMM = 0
	}
	return v.ray(xPx, yPx)
}

// Project returns where a vehicle point is on a picture; ok is false behind the
// eye.
func (c Camera) Project(p geom.Vec, widthPx, heightPx float64) (xPx, yPx float64, ok bool) {
	v := c.sized(widthPx, heightPx)
	xPx, yPx, _, ok = v.project(p)
	return xPx, yPx, ok
}

// SizeMM returns the length across the line of sight that one unit of a picture
// stands for at the depth of p, whose height is in that unit.
func (c Camera) SizeMM(p geom.Vec, heightPx float64) (unitMM float64) {
	v := c.sized(heightPx, heightPx)
	if c.Parallel {
		return c.DistMM / v.scalePx
	}
	return math.Max(v.nearMM, v.place(p)[2]) / v.scalePx
}
