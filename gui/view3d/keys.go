package view3d

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/geom/render"
)

// Steps of the keys, common practice, no source: an arrow turns by 5°, with
// Shift it shifts by a twentieth of the height; + and - zoom by a fifth.
const (
	keyTurnRad = 5 * math.Pi / 180
	keyShift   = 1.0 / 20
	keyZoom    = 0.8
)

// TypedRune handles the letters of the view: F fits, P changes between
// perspective and parallel, + and - zoom, 1 to 7 are the standard views. All
// others go to OnRune.
func (v *View) TypedRune(r rune) {
	switch {
	case r >= '1' && r <= '7':
		v.Look(render.View(r - '1'))
	case r == 'f' || r == 'F':
		v.FitAll()
	case r == 'p' || r == 'P':
		c := v.cam
		c.Parallel = !c.Parallel
		v.moveTo(c)
	case r == '+' || r == '=':
		v.zoomMiddle(keyZoom)
	case r == '-':
		v.zoomMiddle(1 / keyZoom)
	case v.OnRune != nil:
		v.OnRune(r)
	}
}

func (v *View) zoomMiddle(ratio float64) {
	v.moveTo(v.cam.ZoomAt(0.5, 0.5, ratio, 1, 1))
}

// TypedKey turns or shifts with the arrows; all other keys go to OnKey.
func (v *View) TypedKey(e *fyne.KeyEvent) {
	var x, y float64
	switch e.Name {
	case fyne.KeyLeft:
		x = -1
	case fyne.KeyRight:
		x = 1
	case fyne.KeyUp:
		y = -1
	case fyne.KeyDown:
		y = 1
	default:
		if v.OnKey != nil {
			v.OnKey(e)
		}
		return
	}
	if modifiers()&fyne.KeyModifierShift != 0 {
		v.moveTo(v.cam.Pan(x*keyShift, y*keyShift, 1))
		return
	}
	v.moveTo(v.cam.Orbit(v.cam.Target, x*keyTurnRad, -y*keyTurnRad))
}

// modifiers returns the keys held down, where the toolkit can tell.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// FocusGained shows the focus ring.
func (v *View) FocusGained() {
	v.ring.Show()
	v.Refresh()
}

// FocusLost hides it.
func (v *View) FocusLost() {
	v.ring.Hide()
	v.Refresh()
}
