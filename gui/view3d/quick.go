package view3d

import (
	"context"
	"math"
	"time"

	"fyne.io/fyne/v2"

	"aftbay/geom/render"
	"aftbay/gui/phrase"
)

// sketch is a quick picture: what it shows, and what became of it.
type sketch struct {
	scene       render.Scene
	cam         render.Camera
	o           render.Options
	wPx, hPx    int
	turn        int
	half, rough bool // at half size; with coarse meshes

	frame *render.Frame
	err   error
	tookS float64
}

// sketch returns the quick picture of the scene as it is now, to be drawn.
func (v *View) sketch() *sketch {
	p := &v.paint
	q := &sketch{scene: v.scene, cam: v.cam, o: v.options, wPx: p.wPx, hPx: p.hPx, turn: p.turn}
	q.o.TextPx = p.textPx
	if q.half = v.busy() && p.tookS > slowS; q.half {
		q.scene, q.rough = v.moving(p.hPx)
		q.wPx, q.hPx, q.o.TextPx = (q.wPx+1)/2, (q.hPx+1)/2, q.o.TextPx/2
		q.o.LineShare = 0.5
	}
	return q
}

func (q *sketch) draw() {
	began := time.Now()
	q.frame, q.err = render.Draw(context.Background(), q.scene, q.cam, q.o, q.wPx, q.hPx)
	q.tookS = time.Since(began).Seconds()
}

// put makes a drawn picture the one to be shown.
func (v *View) put(q *sketch) {
	p := &v.paint
	if q.err != nil {
		p.fault = phrase.F("picture: %v", q.err)
		return
	}
	if !q.half { // a single slow picture does not yet count
		p.tookS += 0.4 * (q.tookS - p.tookS)
	}
	p.fault, p.quick, p.quickTurn, p.quickRough, p.seen = "", q.frame, q.turn, q.rough, q.cam
}

// next draws apart what is still to be drawn: one picture at a time, and of what
// has changed meanwhile the last state alone.
func (v *View) next() {
	p := &v.paint
	if p.wPx == 0 || p.drawing {
		return
	}
	if v.fresh() != nil {
		v.rest()
		return
	}
	q := v.sketch()
	q.o.Reuse, p.spare = p.spare, nil
	p.drawing = true
	onMain := p.onMain
	p.guarded(p.apart, func() {
		q.draw()
		onMain(func() { v.drawn(q) })
	})
}

// drawn shows what was drawn apart, and goes on if more has changed.
func (v *View) drawn(q *sketch) {
	p := &v.paint
	p.drawing = false
	before, from := p.quick, p.seen
	v.put(q)
	if q.err != nil {
		return // the next change tries again
	}
	p.spare = before
	v.raster.Refresh()
	if v.OnCamera != nil && q.cam != from {
		v.OnCamera(q.cam)
	}
	v.next()
}

// seen returns where the picture on the screen looks from: what is drawn over it
// must fit it, also while the next one is being drawn.
func (v *View) seen() render.Camera {
	if v.paint.apart != nil && v.paint.last() != nil {
		return v.paint.seen
	}
	return v.cam
}

// pick returns what the scene as it is now shows at a position of the view, also
// while the picture of it is still being drawn.
func (v *View) pick(pos fyne.Position) (render.Pick, bool) {
	p := &v.paint
	f := v.fresh()
	if f == nil && p.apart == nil {
		f = v.current()
	}
	if f != nil {
		x, y := v.pixel(pos, f.Image.Rect.Dx(), f.Image.Rect.Dy())
		return f.Pick(int(math.Floor(x)), int(math.Floor(y)))
	}
	x, y := v.pixel(pos, p.wPx, p.hPx)
	return render.PickAt(v.scene, v.cam, v.options, int(math.Floor(x)), int(math.Floor(y)), p.wPx, p.hPx, &p.boxes)
}
