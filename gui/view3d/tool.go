package view3d

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"aftbay/geom"
	"aftbay/geom/render"
)

// Tool is something in the scene that takes the pointer before the view does: a
// handle, a cut that is dragged, a measurement being made. All events carry the
// line of sight; Drag's has no Pick, since no picture is drawn for it. The tool
// shows itself through the overlay of the scene.
type Tool interface {
	// Press is asked when the primary button goes down; true takes the drag that
	// follows.
	Press(e Event) bool
	// Drag tells of each move of a drag that was taken, Release of its end, also
	// when the button comes up without a drag.
	Drag(e Event)
	Release()
	// Tap is asked at a click; true keeps it from the view.
	Tap(e Event) bool
	// Hover is told of the pointer with no button down; true keeps it from the
	// view, and from the tools behind.
	Hover(e Event) bool
}

// SetTools sets the tools, the first is asked first.
func (v *View) SetTools(tools ...Tool) { v.tools = tools }

// sight fills in the line of sight and the keys held at a position of the view.
func (v *View) sight(e *Event) {
	size := v.Size()
	e.From, e.Dir = v.cam.Sight(float64(e.At.X), float64(e.At.Y), float64(size.Width), float64(size.Height))
	e.Modifier = v.hand.modifier
}

// taken asks the tools about a press.
func (v *View) taken(e Event) Tool {
	for _, t := range v.tools {
		if t.Press(e) {
			return t
		}
	}
	return nil
}

// letGo ends what a tool has taken.
func (v *View) letGo() {
	if t := v.hand.tool; t != nil {
		v.hand.tool = nil
		t.Release()
	}
}

// tapped reports whether a tool has taken a click.
func (v *View) tapped(e Event) bool {
	for _, t := range v.tools {
		if t.Tap(e) {
			return true
		}
	}
	return false
}

// hovered reports whether a tool has taken the pointer.
func (v *View) hovered(e Event) bool {
	for _, t := range v.tools {
		if t.Hover(e) {
			return true
		}
	}
	return false
}

// Locate returns where a vehicle point is on the picture that is shown; ok is
// false before its size is known and behind the eye.
func (v *View) Locate(p geom.Vec) (at fyne.Position, ok bool) {
	size := v.Size()
	if size.Width <= 0 || size.Height <= 0 {
		return at, false
	}
	seen := v.seen()
	x, y, ok := seen.Project(p, float64(size.Width), float64(size.Height))
	return fyne.NewPos(float32(x), float32(y)), ok
}

// LocateAtRim is Locate for what stays on the picture when its point is off it.
func (v *View) LocateAtRim(p geom.Vec) (at fyne.Position, ok bool) {
	if at, ok = v.Locate(p); ok {
		size := v.Size()
		x, y := render.AtRim(float64(at.X), float64(at.Y), float64(size.Width), float64(size.Height), lettersOf(v))
		at = fyne.NewPos(float32(x), float32(y))
	}
	return at, ok
}

// UnitMM returns the length that a toolkit unit stands for at the depth of p, so
// that a handle keeps its size on the screen.
func (v *View) UnitMM(p geom.Vec) (sizeMM float64) {
	high := max(1, float64(v.Size().Height))
	return v.seen().SizeMM(p, high)
}

// SetBand shows a box between two positions, HideBand takes it away.
func (v *View) SetBand(a, b fyne.Position) {
	lo := fyne.NewPos(min(a.X, b.X), min(a.Y, b.Y))
	v.band.StrokeColor = theme.Color(theme.ColorNamePrimary)
	v.band.FillColor = theme.Color(theme.ColorNameSelection)
	v.band.Move(lo)
	v.band.Resize(fyne.NewSize(max(a.X, b.X)-lo.X, max(a.Y, b.Y)-lo.Y))
	v.band.Show()
	v.band.Refresh()
}

// HideBand takes the box away.
func (v *View) HideBand() {
	v.band.Hide()
	v.band.Refresh()
}
