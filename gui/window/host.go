package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/phrase"
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

// attention returns what is looked at.
func (w *Window) attention() desk.Attention {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.at.Clone()
}

// Preview lowers the drop group on the screen.
func (w *Window) Preview(dropMM float64) {
	w.edits.do(previewKey, func() { w.told(w.desk.PreviewDrop(dropMM)) })
}

// PreviewStand shows the drop group somewhere else.
func (w *Window) PreviewStand(at desk.Stand) {
	w.edits.do(previewKey, func() { w.told(w.desk.PreviewStand(at)) })
}

// Hint says in the status line what is under the pointer.
func (w *Window) Hint(text string) { w.status.Hint(text) }

// Beside works beside and then shows what came of it.
func (w *Window) Beside(name string, work func() (show func())) {
	w.lists.do(name, func() {
		if show := work(); show != nil {
			w.o.onMain(show)
		}
	})
}

// Map starts the map of drop against fore-aft shift, or ends it.
func (w *Window) Map(wanted bool) {
	if wanted {
		w.desk.WantMap()
		return
	}
	w.desk.StopMap()
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

// Prefer says which margin matters most for a component.
func (w *Window) Prefer(study, margin string) {
	w.edit(func() error { return w.desk.SetPriority(study, margin) })
}

// Use mounts components in their places.
func (w *Window) Use(uses ...desk.Use) {
	w.edit(func() error {
		if len(uses) == 1 {
			return w.desk.UseSpot(uses[0])
		}
		return w.desk.UseSpots(uses)
	})
	w.Look(func(a *desk.Attention) { a.Rank = 0 })
}

// TryShield puts a shield on trial.
func (w *Window) TryShield(sh layout.Shield) {
	w.edit(func() error { return w.desk.TryShield(sh) })
	w.Look(func(a *desk.Attention) { a.Without = false })
}

// KeepShield makes it a part; DropShield takes it away.
func (w *Window) KeepShield() { w.edit(w.desk.KeepShield) }

// DropShield takes the shield on trial away.
func (w *Window) DropShield() {
	w.edit(func() error {
		w.desk.DropShield()
		return nil
	})
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

// hovered tells what the picture shows under the pointer.
func (w *Window) hovered(e view3d.Event) {
	var lines []string
	if e.Hit && w.shown != nil {
		at := w.attention()
		lines = desk.Readout(&w.state, &at, w.shown, e.Pick.Item, e.Pick.Triangle)
	}
	w.reads.ShowAt(e.At, lines)
}

// sceneMenu offers what can be done with the part under the pointer.
func (w *Window) sceneMenu(e view3d.Event) {
	items := []*fyne.MenuItem{
		fyne.NewMenuItem(phrase.Of("Fit all"), w.stage.FitAll),
		fyne.NewMenuItem(phrase.Of("Show all parts"), func() { w.Look((*desk.Attention).ShowAll) }),
	}
	if part := w.partAt(e); part != "" {
		items = append([]*fyne.MenuItem{
			fyne.NewMenuItem(phrase.Of("Select ")+part, func() { w.Look(func(a *desk.Attention) { a.Select(part, false) }) }),
			fyne.NewMenuItem(phrase.Of("Look at it"), func() { w.Fly(page.Flight{Parts: []string{part}}) }),
			fyne.NewMenuItem(phrase.Of("Edit all about it…"), func() { w.Edit(desk.PathOfPart(w.state.Doc, part)) }),
			fyne.NewMenuItem(phrase.Of("Hide it"), func() { w.Look(func(a *desk.Attention) { a.Hide(part, true) }) }),
			fyne.NewMenuItem(phrase.Of("Show only it"), func() {
				w.Look(func(a *desk.Attention) { a.Select(part, false); a.Isolate(&w.state) })
			}),
			fyne.NewMenuItem(phrase.Of("See through it"), func() { w.Look(func(a *desk.Attention) { a.Select(part, false); a.ToggleClear() }) }),
			fyne.NewMenuItemSeparator(),
			w.cutHere(phrase.Of("Cut here across X"), e, geom.Vec{1, 0, 0}),
			w.cutHere(phrase.Of("Cut here across Y"), e, geom.Vec{0, 1, 0}),
			w.cutHere(phrase.Of("Cut here across Z"), e, geom.Vec{0, 0, 1}),
			fyne.NewMenuItemSeparator(),
		}, items...)
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), e.Place)
}
