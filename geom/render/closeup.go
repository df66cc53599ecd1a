package render

import (
	"math"

	"aftbay/geom"
)

// Closeup returns a camera that looks square at the line between two points, so
// that its length shows true, and a cut through both that clears the view: the
// picture of a narrowest place. heightMM is the height shown at least; a long
// line gets more. Of all directions square to the line the one nearest to the
// corner view is taken; for equal points that view itself.
func Closeup(from, to geom.Vec, heightMM float64) (Camera, Cut) {
	const room = 3 // the line takes a third of the height at most
	c := NewCamera()
	c.Parallel = true
	c.Target = from.Add(to).Mul(0.5)
	line := to.Sub(from)
	_, _, back := c.basis()
	if size := line.Len(); size > 0 {
		line = line.Mul(1 / size)
		square := back.Sub(line.Mul(back.Dot(line)))
		if square.Len() < 0.1 { // the line points at the eye: look along X instead
			square = geom.Vec{1, 0, 0}.Sub(line.Mul(line[0]))
		}
		back = square.Normalize()
		heightMM = max(heightMM, room*size)
	}
	c.ElevationRad = math.Asin(max(-1, min(1, back[2])))
	if math.Hypot(back[0], back[1]) > 1e-9 {
		c.AzimuthRad = math.Atan2(back[1], back[0])
	}
	c.DistMM = max(minDistMM, min(maxDistMM, heightMM/2/math.Tan(c.FieldRad/2)))
	return c, Cut{Point: c.Target, Normal: back}
}
