package window

import (
	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/view3d"
)

// boxTool selects by a box: with Control and Shift anywhere, with Control where
// the pointer is on no part.
type boxTool struct {
	w        *Window
	from, to fyne.Position
	drawn    bool
	adds     bool
}

// Press takes the drag if the keys say so.
func (t *boxTool) Press(e view3d.Event) bool {
	const both = fyne.KeyModifierControl | fyne.KeyModifierShift
	t.from, t.drawn, t.adds = e.At, false, e.Modifier&both == both
	return t.adds || e.Modifier&fyne.KeyModifierControl != 0 && !e.Hit
}

// Drag shows the box.
func (t *boxTool) Drag(e view3d.Event) {
	t.to, t.drawn = e.At, true
	t.w.stage.SetBand(t.from, t.to)
}

// Release selects the parts that lie within.
func (t *boxTool) Release() {
	t.w.stage.HideBand()
	if !t.drawn || t.w.shown == nil {
		return
	}
	t.drawn = false
	lo := fyne.NewPos(min(t.from.X, t.to.X), min(t.from.Y, t.to.Y))
	hi := fyne.NewPos(max(t.from.X, t.to.X), max(t.from.Y, t.to.Y))
	parts := desk.PartsWithin(t.w.shown, func(p geom.Vec) bool {
		at, ok := t.w.stage.Locate(p)
		return ok && at.X >= lo.X && at.Y >= lo.Y && at.X <= hi.X && at.Y <= hi.Y
	})
	adds := t.adds
	t.w.Look(func(a *desk.Attention) { a.SelectAll(parts, adds) })
}

// Tap leaves clicks to others.
func (t *boxTool) Tap(view3d.Event) bool { return false }

// Hover leaves the pointer to others.
func (t *boxTool) Hover(view3d.Event) bool { return false }
