package window

import (
	"math"

	"fyne.io/fyne/v2"

	"aftbay/gui/desk"
	"aftbay/gui/view3d"
)

// gripReach is how far from the middle of a handle the pointer may be to take
// hold of it, in the toolkit's units.
const gripReach = 14

// cutTool drags the cuts by their letters; a click on one flips it.
type cutTool struct {
	w    *Window
	held desk.CutGrip
}

// under returns the handle under the pointer, one without a name for none.
func (t *cutTool) under(at fyne.Position) (under desk.Handle) {
	nearest := float32(gripReach)
	if t.w.shown == nil {
		return under
	}
	for _, h := range t.w.shown.Handles {
		p, ok := t.w.stage.LocateAtRim(h.At)
		if !ok {
			continue
		}
		if off := float32(math.Hypot(float64(p.X-at.X), float64(p.Y-at.Y))); off < nearest {
			under, nearest = h, off
		}
	}
	return under
}

// Press takes the drag that begins on a letter.
func (t *cutTool) Press(e view3d.Event) bool {
	h := t.under(e.At)
	if h.Name == "" {
		return false
	}
	t.w.mu.Lock()
	defer t.w.mu.Unlock()
	t.held = t.w.at.GripCut(h, e.From, e.Dir)
	return true
}

// Drag moves the cut with the pointer.
func (t *cutTool) Drag(e view3d.Event) {
	held := t.held
	t.w.Look(func(a *desk.Attention) { a.DragCut(held, e.From, e.Dir) })
}

// Release ends it.
func (t *cutTool) Release() { t.held = desk.CutGrip{} }

// Tap flips the cut.
func (t *cutTool) Tap(e view3d.Event) bool {
	name := t.under(e.At).Name
	if name != "" {
		t.w.Look(func(a *desk.Attention) { a.FlipCut(name) })
	}
	return name != ""
}

// Hover says what the handle does.
func (t *cutTool) Hover(e view3d.Event) bool {
	name := t.under(e.At).Name
	if name == "" {
		return false
	}
	at := t.w.attention()
	t.w.reads.ShowAt(e.At, desk.CutHint(&at, name))
	return true
}
