package window

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/view3d"
)

// previewKey marks the drop previews among the edits.
const previewKey = "preview"

// Look changes what is looked at.
func (w *Window) Look(change func(a *desk.Attention)) {
	w.mu.Lock()
	at := w.at.Clone()
	change(&at)
	w.at = at
	w.mu.Unlock()
	w.changed()
}

// Preview lowers the drop group on the screen.
func (w *Window) Preview(dropMM float64) {
	w.edits.do(previewKey, func() { w.told(w.desk.PreviewDrop(dropMM)) })
}

// Keep makes the previewed drop an edit.
func (w *Window) Keep() { w.edit(w.desk.KeepDrop) }

// Pose places a part.
func (w *Window) Pose(part string, moveMM, turnDeg geom.Vec, failed func(err error)) {
	w.edits.do("", func() {
		if err := w.desk.Place(part, moveMM, turnDeg); err != nil {
			w.o.onMain(func() { failed(err) })
		}
	})
}

// Use mounts a component in its place.
func (w *Window) Use(u desk.Use) {
	w.edit(func() error { return w.desk.UseSpot(u) })
	w.Look(func(a *desk.Attention) { a.Rank = 0 })
}

// edit runs an edit beside and shows its error.
func (w *Window) edit(change func() error) {
	w.edits.do("", func() { w.told(change()) })
}

// told shows an error of work done beside.
func (w *Window) told(err error) {
	if err != nil {
		w.o.onMain(func() { w.showError(err) })
	}
}

// leastSceneMM is the height of the scene shown around a part at least, so that
// its neighbours tell where it is.
const leastSceneMM = 700

// Fly turns the camera.
func (w *Window) Fly(to page.Flight) {
	if w.before == nil {
		c := w.stage.Camera()
		w.before = &c
	}
	if len(to.Parts) > 0 {
		if box := desk.BoxOf(&w.state, to.Parts); !box.IsEmpty() {
			c := w.stage.Camera()
			c.Target = box.Center()
			heightMM := max(leastSceneMM, 2.5*box.DiagonalMM())
			c.DistMM = heightMM / 2 / math.Tan(c.FieldRad/2)
			w.stage.SetCamera(c)
		}
		return
	}
	was := w.stage.Camera()
	c, _ := render.Closeup(to.From, to.To, to.SizeMM)
	if to.Facing != (geom.Vec{}) {
		c = facing(c, to.Facing)
	}
	if c.Parallel = was.Parallel; !c.Parallel {
		c.FieldRad = was.FieldRad
	}
	w.stage.SetCamera(c)
}

// flyBack turns the camera to where it was before the first flight.
func (w *Window) flyBack() {
	if w.before != nil {
		w.stage.SetCamera(*w.before)
		w.before = nil
	}
}

// facing turns a camera so that it sees a surface with that normal: from above
// or below at 60° at most.
func facing(c render.Camera, normal geom.Vec) render.Camera {
	const steepest = math.Pi / 3
	c.ElevationRad = max(-steepest, min(steepest, math.Asin(max(-1, min(1, normal[2])))))
	if math.Hypot(normal[0], normal[1]) > 1e-6 {
		c.AzimuthRad = math.Atan2(normal[1], normal[0])
	}
	return c.Orbit(c.Target, 20*math.Pi/180, 12*math.Pi/180) // aslant: depth shows
}

// picked selects what was clicked.
func (w *Window) picked(e view3d.Event) {
	part := w.partAt(e)
	w.Look(func(a *desk.Attention) { a.Select(part, e.Add) })
}

func (w *Window) partAt(e view3d.Event) string {
	if e.Hit && e.Pick.Item < len(w.named) {
		return w.named[e.Pick.Item]
	}
	return ""
}

// sceneMenu offers what can be done with the part under the pointer.
func (w *Window) sceneMenu(e view3d.Event) {
	items := []*fyne.MenuItem{
		fyne.NewMenuItem("Fit all", w.stage.FitAll),
		fyne.NewMenuItem("Show all parts", func() { w.Look(func(a *desk.Attention) { a.Hidden = nil }) }),
	}
	if part := w.partAt(e); part != "" {
		items = append([]*fyne.MenuItem{
			fyne.NewMenuItem("Select "+part, func() { w.Look(func(a *desk.Attention) { a.Select(part, false) }) }),
			fyne.NewMenuItem("Look at it", func() { w.Fly(page.Flight{Parts: []string{part}}) }),
			fyne.NewMenuItem("Hide it", func() { w.Look(func(a *desk.Attention) { a.Hide(part, true) }) }),
			fyne.NewMenuItem("Show only it", func() {
				w.Look(func(a *desk.Attention) { a.Select(part, false); a.Isolate(&w.state) })
			}),
			fyne.NewMenuItemSeparator(),
		}, items...)
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), e.Place)
}
