package window

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/view3d"
)

// cornerReach is how near to a corner of a facet a click takes the corner itself,
// in the toolkit's units.
const cornerReach = 14

// pointTool picks the points that place a part; nil picks is idle.
type pointTool struct {
	w     *Window
	picks *desk.ThreePoints
}

// startPoints begins to place what is selected by three points.
func (w *Window) startPoints() {
	w.withSelected(func(parts []string) {
		w.points.picks = &desk.ThreePoints{Load: desk.LoadOf(&w.state, parts, w.menu.group.Checked)}
		w.points.show()
		w.win.Canvas().Focus(w.stage)
	})
}

// show marks in the scene what is picked and says what to click next.
func (t *pointTool) show() {
	var picked []geom.Vec
	says := ""
	if t.picks != nil {
		picked, says = slices.Clone(t.picks.Points), t.picks.Says()
	}
	t.w.Look(func(a *desk.Attention) { a.Picked, a.Picking = picked, says })
}

// end stops picking; false if nothing was being picked.
func (t *pointTool) end() bool {
	was := t.picks != nil
	t.picks = nil
	if was {
		t.show()
		t.w.reads.ShowAt(fyne.Position{}, nil)
	}
	return was
}

// Press, Drag and Release leave drags to the view.
func (t *pointTool) Press(view3d.Event) bool { return false }

// Drag leaves drags to the view.
func (t *pointTool) Drag(view3d.Event) {}

// Release leaves drags to the view.
func (t *pointTool) Release() {}

// Tap takes a point; the sixth places the part.
func (t *pointTool) Tap(e view3d.Event) bool {
	if t.picks == nil {
		return false
	}
	if !e.Hit {
		return true
	}
	done := t.picks.Add(t.corner(e))
	if !done {
		t.show()
		t.w.reads.ShowAt(e.At, []string{t.picks.Says()})
		return true
	}
	from, onto := t.picks.Sets()
	load := t.picks.Load
	t.end()
	t.w.edit(func() error { return t.w.desk.PlaceByPoints(load, from, onto) })
	return true
}

// corner returns the corner of the facet under the pointer that is near it, else
// the place on the facet.
func (t *pointTool) corner(e view3d.Event) geom.Vec {
	p := e.Pick.Point
	if t.w.shown == nil || e.Pick.Item >= len(t.w.shown.Items) {
		return p
	}
	it := &t.w.shown.Items[e.Pick.Item]
	if int(e.Pick.Triangle) >= len(it.Mesh.Tris) || e.Pick.Triangle < 0 {
		return p
	}
	nearest := float64(cornerReach)
	for _, v := range it.Mesh.Tris[e.Pick.Triangle] {
		c := it.Pose.Point(it.Mesh.Verts[v])
		at, ok := t.w.stage.Locate(c)
		if off := math.Hypot(float64(at.X-e.At.X), float64(at.Y-e.At.Y)); ok && off < nearest {
			p, nearest = c, off
		}
	}
	return p
}

// Hover says what to click next.
func (t *pointTool) Hover(e view3d.Event) bool {
	if t.picks == nil {
		return false
	}
	t.w.reads.ShowAt(e.At, []string{t.picks.Says()})
	return true
}
