package render

import (
	"math"

	"aftbay/geom"
)

// view is a camera set to a picture size: the projection. View points are
// (right, up, depth): mm across, mm up, mm in front of the eye.
type view struct {
	cam            Camera
	right, up      geom.Vec
	back, eye      geom.Vec
	midXPx, midYPx float64
	scalePx        float64 // pixels per unit of slope
	nearMM         float64 // nothing closer is drawn
	rangeMM        float64 // parallel only: depth of the whole scene, both ways
	cuts           []cutPlane
}

// newView sets the camera to a picture; around is the box of all that is drawn.
func newView(c Camera, around geom.Box, wPx, hPx int) view {
	v := view{cam: c, midXPx: float64(wPx) / 2, midYPx: float64(hPx) / 2}
	v.right, v.up, v.back = c.basis()
	v.eye = c.Target.Add(v.back.Mul(c.DistMM))
	v.scalePx = v.midYPx / math.Tan(c.FieldRad/2)
	v.nearMM = c.DistMM * 0.02
	if c.Parallel {
		reach := c.DistMM
		if !around.IsEmpty() {
			reach += around.Center().Sub(c.Target).Len() + around.DiagonalMM()
		}
		v.rangeMM = 2 * reach
		v.nearMM = c.DistMM - v.rangeMM/2
	}
	return v
}

// place returns the view point of a vehicle point.
func (v *view) place(p geom.Vec) geom.Vec {
	d := p.Sub(v.eye)
	return geom.Vec{d.Dot(v.right), d.Dot(v.up), -d.Dot(v.back)}
}

// pixel returns where a view point falls and its depth value: greater is
// nearer, straight across the picture, always above 0 behind nearMM.
func (v *view) pixel(viewPoint geom.Vec) (xPx, yPx, nearness float64) {
	nearness = 1 / viewPoint[2]
	k := v.scalePx * nearness
	if v.cam.Parallel {
		k = v.scalePx / v.cam.DistMM
		nearness = 1.75 - (viewPoint[2]-v.nearMM)/(2*v.rangeMM)
	}
	return v.midXPx + viewPoint[0]*k, v.midYPx - viewPoint[1]*k, nearness
}

// depthMM undoes the depth value of pixel.
func (v *view) depthMM(nearness float64) float64 {
	if v.cam.Parallel {
		return v.nearMM + (1.75-nearness)*2*v.rangeMM
	}
	return 1 / nearness
}

// ray returns the line of sight through a place on the picture: a point and a
// unit direction into the scene.
func (v *view) ray(xPx, yPx float64) (from, dir geom.Vec) {
	x, y := (xPx-v.midXPx)/v.scalePx, (v.midYPx-yPx)/v.scalePx
	across := v.right.Mul(x).Add(v.up.Mul(y))
	if v.cam.Parallel {
		return v.eye.Add(across.Mul(v.cam.DistMM)).Add(v.back.Mul(-v.nearMM)), v.back.Mul(-1)
	}
	return v.eye, across.Sub(v.back).Normalize()
}

// project returns the pixel of a vehicle point; ok is false in front of nearMM.
func (v *view) project(p geom.Vec) (xPx, yPx, nearness float64, ok bool) {
	at := v.place(p)
	if !(at[2] >= v.nearMM) || !geom.IsFinite(at) {
		return 0, 0, 0, false
	}
	xPx, yPx, nearness = v.pixel(at)
	return xPx, yPx, nearness, true
}

// lineBias lifts drawn lines off the surface they lie on: 0.1 % of the depth
// hides the rounding of pixel centres and is too little to shine through a wall.
const lineBias = 0.001

// lifted returns a depth value a little nearer, for lines on surfaces.
func (v *view) lifted(nearness float64) float64 {
	if v.cam.Parallel {
		return nearness + lineBias*v.cam.DistMM/(2*v.rangeMM)
	}
	return nearness * (1 + lineBias)
}
