package window

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/theme"
	"aftbay/gui/view3d"
)

// Sizes of the handles in the toolkit's units: the length of an arrow, how near
// the pointer must be, and how wide the lines are.
const (
	gripArm   = 92
	gripNear  = 9
	gripThin  = 2
	gripThick = 4
)

// gripTool moves and turns what is selected by handles around its middle.
type gripTool struct {
	w      *Window
	over   desk.Grip // under the pointer
	held   *desk.Grasp
	by     geom.Pose
	says   string
	sketch *page.Sketch
}

// grips returns the handles as the picture shows them now.
func (t *gripTool) grips() (g desk.Grips, ok bool) {
	if !t.w.menu.grips.Checked {
		return g, false
	}
	if t.held != nil {
		g = t.held.Grips
		g.At = t.by.Point(g.At)
		return g, true
	}
	at := t.w.attention()
	if g, ok = desk.GripsOf(&t.w.state, &at, t.w.menu.group.Checked); ok {
		g.ArmMM = gripArm * t.w.stage.UnitMM(g.At)
	}
	return g, ok
}

// draw shows the handles, the one under the pointer or in the hand wider.
func (t *gripTool) draw() {
	g, ok := t.grips()
	if !ok {
		t.sketch.SetStrokes(nil)
		return
	}
	lit := t.over
	if t.held != nil {
		lit = t.held.Grip
	}
	var strokes []page.Stroke
	for _, h := range g.All() {
		if t.held != nil && h != lit {
			continue
		}
		width := float32(gripThin)
		if h == lit {
			width = gripThick
		}
		for _, line := range t.lines(g, h) {
			strokes = append(strokes, page.Stroke{Points: line, Color: axisColor(h.Axis, t.w.o.Look), Width: width})
		}
	}
	t.sketch.SetStrokes(strokes)
}

func axisColor(axis int, look theme.Look) color.Color {
	c := render.AxisColor(axis, look == theme.Dark)
	return color.NRGBA{R: c.R, G: c.G, B: c.B, A: 255}
}

// lines returns a handle's lines on the screen, none where one is behind the eye.
func (t *gripTool) lines(g desk.Grips, h desk.Grip) (out [][]fyne.Position) {
	for _, line := range g.Lines(h) {
		var points []fyne.Position
		for _, p := range line {
			at, ok := t.w.stage.Locate(p)
			if !ok {
				return nil
			}
			points = append(points, at)
		}
		out = append(out, points)
	}
	return out
}

// under returns the handle near a place of the screen.
func (t *gripTool) under(at fyne.Position) (under desk.Grip) {
	g, ok := t.grips()
	if !ok {
		return under
	}
	nearest := float64(gripNear)
	for _, h := range g.All() {
		for _, line := range t.lines(g, h) {
			for i := 1; i < len(line); i++ {
				if off := offLine(at, line[i-1], line[i]); off < nearest {
					under, nearest = h, off
				}
			}
		}
	}
	return under
}

// offLine returns the distance of a place from a line on the screen.
// Bare numbers: in the toolkit's units.
func offLine(p, a, b fyne.Position) (off float64) {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(p.X-a.X), float64(p.Y-a.Y)
	share := 0.0
	if size := dx*dx + dy*dy; size > 0 {
		share = max(0, min(1, (px*dx+py*dy)/size))
	}
	return math.Hypot(px-share*dx, py-share*dy)
}

// Press takes hold of the handle under the pointer.
func (t *gripTool) Press(e view3d.Event) bool {
	h := t.under(e.At)
	g, ok := t.grips()
	if h.Kind == desk.NoGrip || !ok {
		return false
	}
	held, ok := g.Take(h, e.From, e.Dir)
	if !ok {
		return false
	}
	t.held, t.by, t.says = &held, geom.Identity(), ""
	load := g.Load
	t.w.carried = &load
	return true
}

// Drag takes what is selected along.
func (t *gripTool) Drag(e view3d.Event) {
	if t.held == nil {
		return
	}
	by, says, ok := t.held.Pose(e.From, e.Dir, e.Modifier&fyne.KeyModifierShift != 0)
	if !ok {
		return
	}
	t.by, t.says = by, says
	t.w.carryBy(by)
	t.draw()
	t.w.reads.ShowAt(e.At, t.tells())
}

// tells says how far the hand has come and what is nearest.
func (t *gripTool) tells() []string {
	return append([]string{t.says}, desk.HeldSays(&t.w.state, t.held.Load)...)
}

// forget drops what is held without putting it down.
func (t *gripTool) forget() {
	t.held = nil
	t.w.reads.ShowAt(fyne.Position{}, nil)
	t.draw()
}

// Release puts it down.
func (t *gripTool) Release() {
	if t.held == nil {
		return
	}
	moved := t.by != geom.Identity()
	t.held = nil
	t.w.reads.ShowAt(fyne.Position{}, nil)
	if moved {
		t.w.putDown()
	} else {
		t.w.carried = nil
	}
	t.draw()
}

// Tap leaves clicks to the view.
func (t *gripTool) Tap(view3d.Event) bool { return false }

// Hover lights the handle under the pointer and says what it does.
func (t *gripTool) Hover(e view3d.Event) bool {
	was := t.over
	t.over = t.under(e.At)
	if t.over != was {
		t.draw()
	}
	if t.over.Kind == desk.NoGrip {
		return false
	}
	g, _ := t.grips()
	t.w.reads.ShowAt(e.At, desk.GripHint(g, t.over))
	return true
}
