package view3d

import (
	"math"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/geom/render"
)

// glideS is how long a change of view takes: long enough to see which way the
// scene turns. Common practice, no source.
const glideS = 0.22

// glideTo moves the camera to c so that the eye can follow; at once where the
// user has turned animations off.
func (v *View) glideTo(c render.Camera) {
	v.stopGlide()
	if v.paint.wPx == 0 || !fyne.CurrentApp().Settings().ShowAnimations() {
		v.moveTo(c)
		return
	}
	from := v.cam
	v.glide = fyne.NewAnimation(seconds(glideS), func(done float32) {
		if done >= 1 {
			v.glide = nil
			v.moveTo(c)
			return
		}
		v.moveTo(betweenCameras(from, c, float64(done)))
	})
	v.glide.Curve = fyne.AnimationEaseInOut
	v.glide.Start()
}

// stopGlide leaves the camera where it is.
func (v *View) stopGlide() {
	if v.glide != nil {
		v.glide.Stop()
		v.glide = nil
	}
}

// busy reports whether pictures follow each other fast: dragging or gliding.
func (v *View) busy() bool { return v.hand.dragging || v.glide != nil }

// betweenCameras returns the camera at share 0..1 of the way: the shorter way
// round, distances by equal ratios.
func betweenCameras(a, b render.Camera, share float64) render.Camera {
	c := b
	c.AzimuthRad = a.AzimuthRad + share*math.Remainder(b.AzimuthRad-a.AzimuthRad, 2*math.Pi)
	c.ElevationRad = a.ElevationRad + share*(b.ElevationRad-a.ElevationRad)
	c.DistMM = a.DistMM * math.Pow(b.DistMM/a.DistMM, share)
	c.Target = lerp(a.Target, b.Target, share)
	return c
}

func lerp(a, b geom.Vec, share float64) geom.Vec { return a.Add(b.Sub(a).Mul(share)) }
