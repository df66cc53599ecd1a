package window

import (
	"math"
	"time"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
)

// leastSceneMM is the height of the scene shown around a part at least, so that
// its neighbours tell where it is.
const leastSceneMM = 700

// Fly turns the camera.
func (w *Window) Fly(to page.Flight) {
	if w.before == nil {
		c := w.stage.Camera()
		w.before = &c
	}
	if len(to.Parts) > 0 {
		if box := desk.BoxOf(&w.state, to.Parts); !box.IsEmpty() {
			c := w.stage.Camera()
			c.Target = box.Center()
			heightMM := max(leastSceneMM, 2.5*box.DiagonalMM())
			c.DistMM = heightMM / 2 / math.Tan(c.FieldRad/2)
			at := w.attention()
			w.glideTo(desk.Vantage(&w.state, &at, to.Parts, c))
		}
		return
	}
	was := w.stage.Camera()
	c, _ := render.Closeup(to.From, to.To, to.SizeMM)
	if to.Facing != (geom.Vec{}) {
		c = facing(c, to.Facing)
	}
	if c.Parallel = was.Parallel; !c.Parallel {
		c.FieldRad = was.FieldRad
	}
	w.glideTo(c)
}

// flyBack turns the camera to where it was before the first flight.
func (w *Window) flyBack() {
	if w.before != nil {
		w.glideTo(*w.before)
		w.before = nil
	}
}

// leaveFinding ends the close-up of a finding that was let go: back to where the
// camera came from, or to where what was selected instead can be seen.
func (w *Window) leaveFinding(at *desk.Attention) {
	was := w.finding
	w.finding = at.Finding
	switch {
	case was == "" || at.Finding != "" || w.before == nil:
	case len(at.Selected) == 0:
		w.flyBack()
	case !desk.InSight(&w.state, at, at.Selected, w.stage.Camera()):
		w.Fly(page.Flight{Parts: at.Selected})
	}
}

// facing turns a camera so that it sees a surface with that normal: from above
// or below at 60° at most.
func facing(c render.Camera, normal geom.Vec) render.Camera {
	const steepest = math.Pi / 3
	c.ElevationRad = max(-steepest, min(steepest, math.Asin(max(-1, min(1, normal[2])))))
	if math.Hypot(normal[0], normal[1]) > 1e-6 {
		c.AzimuthRad = math.Atan2(normal[1], normal[0])
	}
	return c.Orbit(c.Target, 20*math.Pi/180, 12*math.Pi/180) // aslant: depth shows
}

// glideTime is how long a flight takes: long enough to see which way the scene
// turns. Common practice, no source.
const glideTime = 300 * time.Millisecond

// glideTo moves the camera so that the eye can follow; at once where the user
// has turned animations off. A camera that is moved meanwhile stays where it was
// put.
func (w *Window) glideTo(to render.Camera) {
	from := w.stage.Camera()
	w.stopGlide()
	set := func(c render.Camera) {
		w.stage.SetCamera(c)
		w.grip.draw()
	}
	if !w.app.Settings().ShowAnimations() || w.o.every == 0 {
		set(to)
		return
	}
	last := from
	glide := fyne.NewAnimation(glideTime, nil)
	glide.Tick = func(done float32) {
		if w.glide != glide || w.stage.Camera() != last {
			glide.Stop()
			return
		}
		last = between(from, to, float64(done))
		if done >= 1 {
			last = to
		}
		set(last)
	}
	glide.Curve = fyne.AnimationEaseInOut
	w.glide = glide
	glide.Start()
}

func (w *Window) stopGlide() {
	if w.glide != nil {
		w.glide.Stop()
		w.glide = nil
	}
}

// between returns the camera at share 0..1 of the way: the shorter way round,
// distances by equal ratios.
func between(from, to render.Camera, share float64) render.Camera {
	c := to
	c.AzimuthRad = from.AzimuthRad + share*math.Remainder(to.AzimuthRad-from.AzimuthRad, 2*math.Pi)
	c.ElevationRad = from.ElevationRad + share*(to.ElevationRad-from.ElevationRad)
	c.DistMM = from.DistMM * math.Pow(to.DistMM/from.DistMM, share)
	c.Target = from.Target.Add(to.Target.Sub(from.Target).Mul(share))
	return c
}
