package view3d

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/geom"
)

// hand is what the pointer is doing.
type hand struct {
	dragging bool
	button   desktop.MouseButton
	modifier fyne.KeyModifier
	at       Event // where the button went down
	tool     Tool  // takes the drag, nil for the view itself
	holding  bool  // a part is taken along
	moved    geom.Vec
	over     *Event // where it points, nil for elsewhere
}

// Speeds, common practice, no source: a drag over the view's height turns by
// 180°; a notch of the wheel (25 units) changes the distance by a tenth.
const (
	turnPerHeightRad = math.Pi
	zoomPerUnit      = 0.004
)

// at returns what lies at a position of the view.
func (v *View) at(pos, absolute fyne.Position) Event {
	e := Event{At: pos, Place: absolute}
	v.sight(&e)
	e.Pick, e.Hit = v.pick(pos)
	return e
}

// pixel returns the pixel of a picture of a size at a position of the view.
func (v *View) pixel(pos fyne.Position, wide, high int) (xPx, yPx float64) {
	size := v.Size()
	if size.Width <= 0 || size.Height <= 0 {
		return -1, -1
	}
	return float64(pos.X) / float64(size.Width) * float64(wide), float64(pos.Y) / float64(size.Height) * float64(high)
}

// MouseDown notes what the toolkit does not tell with a drag.
func (v *View) MouseDown(e *desktop.MouseEvent) {
	v.hand.button, v.hand.modifier = e.Button, e.Modifier
	v.stopGlide()
	v.hand.at = v.at(e.Position, e.AbsolutePosition)
	v.letGo() // what was never let go
	if e.Button == desktop.MouseButtonPrimary {
		v.hand.tool = v.taken(v.hand.at)
	}
	v.focus()
}

// MouseUp ends what a tool took with the press; a drag of it ends with DragEnd.
func (v *View) MouseUp(*desktop.MouseEvent) {
	if !v.hand.dragging {
		v.letGo()
	}
}

func (v *View) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
}

// Dragged turns, shifts or takes a part along.
func (v *View) Dragged(e *fyne.DragEvent) {
	h := &v.hand
	if !h.dragging {
		h.dragging = true
		h.moved = geom.Vec{}
		plain := h.tool == nil && h.button != desktop.MouseButtonTertiary && h.modifier&fyne.KeyModifierShift == 0
		h.holding = plain && h.at.Hit && v.Grab != nil && v.Grab(h.at)
	}
	height := max(1, float64(v.Size().Height))
	right, down := float64(e.Dragged.DX)/height, float64(e.Dragged.DY)/height // in view heights
	switch {
	case h.tool != nil:
		at := Event{At: e.Position, Place: e.AbsolutePosition}
		v.sight(&at)
		h.tool.Drag(at)
	case h.holding:
		shift := v.cam.Target.Sub(v.cam.Pan(right, down, 1).Target)
		h.moved = h.moved.Add(shift.Mul(v.gripScale()))
		if v.OnMove != nil {
			v.OnMove(h.moved)
		}
	case h.button == desktop.MouseButtonTertiary || h.modifier&fyne.KeyModifierShift != 0:
		c := v.cam
		if h.at.Hit {
			c = c.Refocus(h.at.Pick.Point) // what was gripped follows the pointer
		}
		v.moveTo(c.Pan(right, down, 1))
	default:
		pivot := v.cam.Target
		if h.at.Hit {
			pivot = h.at.Pick.Point
		}
		v.moveTo(v.cam.Orbit(pivot, -right*turnPerHeightRad, down*turnPerHeightRad))
	}
}

// gripScale returns how many times as far a point at the grip's depth moves as
// one at the target's.
func (v *View) gripScale() (ratio float64) {
	if v.cam.Parallel {
		return 1
	}
	return v.cam.Refocus(v.hand.at.Pick.Point).DistMM / v.cam.DistMM
}

// DragEnd implements fyne.Draggable.
func (v *View) DragEnd() {
	held := v.hand.holding
	v.hand.dragging, v.hand.holding = false, false
	v.letGo()
	if held && v.OnDrop != nil {
		v.OnDrop()
	}
	if v.paint.apart != nil {
		v.next()
		return
	}
	v.raster.Refresh() // at full size, then smooth
}

// Scrolled zooms to what is under the pointer.
func (v *View) Scrolled(e *fyne.ScrollEvent) {
	v.stopGlide()
	p := &v.paint
	if p.wPx == 0 {
		return
	}
	c := v.cam
	if at, ok := v.pick(e.Position); ok {
		c = c.Refocus(at.Point)
	}
	x, y := v.pixel(e.Position, p.wPx, p.hPx)
	ratio := math.Exp(-zoomPerUnit * float64(e.Scrolled.DY))
	v.moveTo(c.ZoomAt(x, y, ratio, p.wPx, p.hPx))
}

// Tapped picks.
func (v *View) Tapped(e *fyne.PointEvent) {
	v.focus()
	at := v.at(e.Position, e.AbsolutePosition)
	at.Add = v.hand.modifier&(fyne.KeyModifierShift|fyne.KeyModifierControl) != 0
	if !v.tapped(at) && v.OnPick != nil {
		v.OnPick(at)
	}
}

// TappedSecondary asks for a menu.
func (v *View) TappedSecondary(e *fyne.PointEvent) {
	v.focus()
	if v.OnMenu != nil {
		v.OnMenu(v.at(e.Position, e.AbsolutePosition))
	}
}

// MouseIn implements desktop.Hoverable.
func (v *View) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

// MouseMoved tells what is under the pointer.
func (v *View) MouseMoved(e *desktop.MouseEvent) {
	v.hand.over = &Event{At: e.Position, Place: e.AbsolutePosition, Modifier: e.Modifier}
	v.hover()
}

// hover tells what is under the pointer now: after a move of it, or of the
// picture below it.
func (v *View) hover() {
	over := v.hand.over
	if over == nil || v.hand.dragging || v.OnHover == nil && len(v.tools) == 0 {
		return
	}
	at := v.at(over.At, over.Place)
	at.Modifier = over.Modifier
	if !v.hovered(at) && v.OnHover != nil {
		v.OnHover(at)
	}
}

// MouseOut tells that nothing is under the pointer.
func (v *View) MouseOut() {
	v.hand.over = nil
	if !v.hand.dragging {
		v.HideBand()
	}
	if v.OnHover != nil {
		v.OnHover(Event{})
	}
}
