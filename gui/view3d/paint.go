package view3d

import (
	"context"
	"fmt"
	"image"
	"runtime/debug"
	"time"

	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/geom/render"
)

// slowS is the time of a picture from which dragging falls back to half size:
// above it fewer than 25 pictures a second are drawn.
const slowS = 0.030

// leastLetters is the least height of letters in device-independent units: the
// toolkit's own text where that is larger, as it is for a projector.
const leastLetters = 14

// painting is what the view has drawn and is drawing.
type painting struct {
	turn     int // counts changes: a picture of an older turn is stale
	wPx, hPx int
	scale    float64 // pixels per device-independent unit
	textPx   float64 // height of letters

	quick      *render.Frame // drawn as soon as asked for
	quickTurn  int
	quickRough bool          // coarse meshes stand in it
	fine       *render.Frame // drawn beside, smooth
	fineTurn   int
	seen       render.Camera // where the newest of them looks from
	tookS      float64       // time of a quick picture at full size, of late
	stop       context.CancelFunc
	fault      string // said once if drawing fails
	beside     func(job func())
	onMain     func(func())
	restS      float64 // quiet time before a smooth picture

	// apart runs the drawing of quick pictures beside the toolkit's goroutine; nil:
	// they are drawn where they are asked for.
	apart   func(job func())
	drawing bool          // a quick picture is being drawn apart
	spare   *render.Frame // shown before the last one: its memory is free
	boxes   render.Boxes
}

// changed makes the pictures stale and asks for a new one.
func (v *View) changed() {
	v.paint.turn++
	v.paint.cancelFine()
	if v.paint.apart == nil {
		v.raster.Refresh()
		return
	}
	v.next()
}

func (p *painting) cancelFine() {
	if p.stop != nil {
		p.stop()
		p.stop = nil
	}
}

// generate is called by the toolkit for the picture, in pixels of the screen. A
// picture of another size is stretched by the toolkit. It draws nothing where
// pictures are drawn apart: the last one stands until the next is there.
func (v *View) generate(wPx, hPx int) image.Image {
	if wPx < 1 || hPx < 1 {
		return blank()
	}
	v.suit(wPx, hPx)
	if v.paint.apart == nil {
		if v.current() == nil {
			return image.NewRGBA(image.Rect(0, 0, wPx, hPx))
		}
		v.rest()
	} else {
		v.next()
	}
	if f := v.paint.last(); f != nil {
		return f.Image
	}
	return blank()
}

func blank() image.Image { return image.NewRGBA(image.Rect(0, 0, 1, 1)) }

// suit notes what the toolkit asks for; what was drawn otherwise is stale.
func (v *View) suit(wPx, hPx int) {
	p := &v.paint
	if wPx != p.wPx || hPx != p.hPx {
		p.wPx, p.hPx = wPx, hPx
		p.turn++
		p.cancelFine()
	}
	p.scale = 1
	if w := v.Size().Width; w > 0 {
		p.scale = float64(wPx) / float64(w)
	}
	if px := p.scale * lettersOf(v); px != p.textPx { // another look, or another screen
		p.textPx = px
		p.turn++
		p.cancelFine()
	}
	if v.fitNext && len(v.scene.Items) > 0 {
		v.fitNext = false
		v.cam = v.cam.FitPoints(v.scene.Corners(), wPx, hPx)
	}
}

// last returns the newest picture there is, nil for none.
func (p *painting) last() *render.Frame {
	if p.fine != nil && (p.quick == nil || p.fineTurn >= p.quickTurn) {
		return p.fine
	}
	return p.quick
}

// rest asks for the smooth picture once nothing moves.
func (v *View) rest() {
	if p := &v.paint; !v.busy() && p.fineTurn != p.turn && p.stop == nil {
		v.startFine()
	}
}

// lettersOf returns the height of letters in device-independent units, so that
// the picture reads as well as the text beside it.
// Bare numbers: device-independent units.
func lettersOf(v *View) float64 {
	text := fynetheme.CurrentForWidget(v).Size(fynetheme.SizeNameText)
	return max(leastLetters, float64(text))
}

// fresh returns the picture of the scene as it is now, nil if it is still to be
// drawn: at rest at full size and with the true meshes.
func (v *View) fresh() *render.Frame {
	p := &v.paint
	switch {
	case p.fine != nil && p.fineTurn == p.turn:
		return p.fine
	case p.quick != nil && p.quickTurn == p.turn && (v.busy() || p.quick.Image.Rect.Dx() == p.wPx && !p.quickRough):
		return p.quick
	}
	return nil
}

// current returns the picture of the scene as it is now, drawn at once if there
// is none. It is nil before the size is known and if drawing fails.
func (v *View) current() *render.Frame {
	p := &v.paint
	if p.wPx == 0 {
		return nil
	}
	if f := v.fresh(); f != nil {
		return f
	}
	q := v.sketch()
	q.o.Reuse, p.quick = p.quick, nil
	q.draw()
	v.put(q)
	return p.quick
}

// startFine draws the smooth picture beside and swaps it in if nothing has
// changed meanwhile.
func (v *View) startFine() {
	p := &v.paint
	ctx, stop := context.WithCancel(context.Background())
	p.stop = stop
	turn, wPx, hPx, scene, cam, o := p.turn, p.wPx, p.hPx, v.scene, v.cam, v.options
	o.Supersample, o.Soft, o.TextPx, o.Workers = 2, true, p.textPx, 1
	o.Reuse, p.fine = p.fine, nil
	rest, onMain := seconds(p.restS), p.onMain
	p.guarded(p.beside, func() {
		select {
		case <-ctx.Done():
			return
		case <-time.After(rest):
		}
		f, err := render.Draw(ctx, scene, cam, o, wPx, hPx)
		if err != nil {
			return // cancelled: a newer picture is on its way
		}
		onMain(func() { v.swapIn(f, turn) })
	})
}

// guarded runs a job beside; a panic of it is told on the main goroutine, whose
// guard saves the work.
func (p *painting) guarded(beside func(job func()), job func()) {
	onMain := p.onMain
	beside(func() {
		defer func() {
			if r := recover(); r != nil {
				text := fmt.Sprintf("%v\n%s", r, debug.Stack())
				onMain(func() { panic(text) })
			}
		}()
		job()
	})
}

// swapIn shows a smooth picture unless it is stale.
func (v *View) swapIn(f *render.Frame, turn int) {
	p := &v.paint
	if turn != p.turn {
		return
	}
	p.fine, p.fineTurn, p.seen = f, turn, v.cam
	p.cancelFine()
	v.hover() // what lay there may be gone
	v.raster.Refresh()
}

// Fault returns why no picture is shown, "" if all is well.
func (v *View) Fault() string { return v.paint.fault }
