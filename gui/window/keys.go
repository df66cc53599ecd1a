package window

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
)

// How far a key moves the selected part: plain, with Shift, with Alt. Common
// practice, no source.
const (
	nudgeMM       = 1.0
	nudgeFarMM    = 10.0
	nudgeFinelyMM = 0.1
)

// addKeys registers the keys that the toolkit gives to the canvas.
func (w *Window) addKeys() {
	// What is typed where nothing takes it is for the scene; but arrows, which move
	// what is selected, only where the scene itself has the keyboard.
	w.win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		if w.helpKey(e.Name) || w.escapeDialog(e.Name) {
			return
		}
		if e.Name == fyne.KeyEscape {
			w.sceneKey(e)
		}
	})
	w.win.Canvas().SetOnTypedRune(func(r rune) {
		if w.win.Canvas().Overlays().Top() == nil {
			w.stage.TypedRune(r)
		}
	})
	for key, by := range map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1} {
		w.win.Canvas().AddShortcut(control(key, 0), func(fyne.Shortcut) { w.pages[w.asked].Step(by) })
	}
	for key, by := range map[fyne.KeyName]int{fyne.KeyPageDown: 1, fyne.KeyPageUp: -1} {
		w.win.Canvas().AddShortcut(control(key, 0), func(fyne.Shortcut) {
			if page, ok := w.pages[w.asked].(page.Turner); ok {
				page.Turn(by)
			}
		})
	}
	for _, key := range []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeyPageUp, fyne.KeyPageDown} {
		w.win.Canvas().AddShortcut(&desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierAlt}, func(fyne.Shortcut) {
			if w.win.Canvas().Focused() == fyne.Focusable(w.stage) {
				w.nudge(key, nudgeFinelyMM)
			}
		})
	}
}

// helpKey shows the keys for F1.
func (w *Window) helpKey(key fyne.KeyName) bool {
	if key == fyne.KeyF1 && w.win.Canvas().Overlays().Top() == nil {
		w.showKeys()
	}
	return key == fyne.KeyF1
}

// escapeTour puts the tour away for Escape, if one is shown.
func (w *Window) escapeTour(key fyne.KeyName) bool {
	if key != fyne.KeyEscape || !w.tour.Visible() {
		return false
	}
	w.tour.End()
	return true
}

// sceneKey handles a key of the focused scene; false leaves it to the view.
func (w *Window) sceneKey(e *fyne.KeyEvent) bool {
	if w.escapeTour(e.Name) {
		return true
	}
	if e.Name == fyne.KeyEscape && (w.letGo() || w.points.end()) {
		return true
	}
	if w.helpKey(e.Name) {
		return true
	}
	if e.Name == fyne.KeyEscape && w.measuring() {
		w.Look((*desk.Attention).ToggleMeasuring)
		w.stage.HideBand()
		return true
	}
	if e.Name == fyne.KeyEscape {
		w.Look(clearLook)
		w.flyBack()
		return true
	}
	stepMM := nudgeMM
	if modifiers()&fyne.KeyModifierShift != 0 {
		stepMM = nudgeFarMM
	}
	return w.nudge(e.Name, stepMM)
}

func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// nudge moves what is selected along the vehicle axis that an arrow key points
// along on the screen; Page Up and Page Down go along Z. It reports false when
// nothing is selected or the key is another.
func (w *Window) nudge(key fyne.KeyName, stepMM float64) bool {
	w.mu.Lock()
	parts := slices.Clone(w.at.Selected)
	w.mu.Unlock()
	by, ok := direction(w.stage.Camera(), key)
	if !ok || len(parts) == 0 {
		return false
	}
	by = by.Mul(stepMM)
	whole := w.menu.group.Checked
	w.edit(func() error {
		if whole {
			return w.desk.NudgeGroupOf(parts, by, true)
		}
		return w.desk.Nudge(parts, by, true)
	})
	return true
}

// direction returns the vehicle axis that is nearest to a key's direction on
// the screen.
func direction(c render.Camera, key fyne.KeyName) (axis geom.Vec, ok bool) {
	right := geom.Vec{-math.Sin(c.AzimuthRad), math.Cos(c.AzimuthRad), 0}
	ahead := geom.Vec{-math.Cos(c.AzimuthRad), -math.Sin(c.AzimuthRad), 0}
	across := nearestAxis(right)
	up := geom.Vec{0, 0, 1}
	if math.Abs(c.ElevationRad) > math.Pi/4 { // seen from above: up on the screen is away
		up = nearestAxis(ahead)
		if c.ElevationRad < 0 {
			up = up.Mul(-1)
		}
	}
	switch key {
	case fyne.KeyLeft:
		return across.Mul(-1), true
	case fyne.KeyRight:
		return across, true
	case fyne.KeyUp:
		return up, true
	case fyne.KeyDown:
		return up.Mul(-1), true
	case fyne.KeyPageUp:
		return geom.Vec{0, 0, 1}, true
	case fyne.KeyPageDown:
		return geom.Vec{0, 0, -1}, true
	}
	return axis, false
}

func nearestAxis(v geom.Vec) geom.Vec {
	k := 0
	if math.Abs(v[1]) > math.Abs(v[0]) {
		k = 1
	}
	var axis geom.Vec
	axis[k] = math.Copysign(1, v[k])
	return axis
}
