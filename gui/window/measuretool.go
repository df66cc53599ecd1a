package window

import (
	"fyne.io/fyne/v2"

	"aftbay/geom/gauge"
	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/view3d"
)

// measureTool takes the ends of measurements by clicks, while that is wanted.
type measureTool struct {
	w    *Window
	ends *desk.Ends
}

// measuring reports whether clicks measure.
func (w *Window) measuring() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.at.Measuring
}

// end returns what lies under the pointer.
func (t *measureTool) end(e view3d.Event) (layout.MeasuredEnd, string, error) {
	want := desk.WantNearest
	switch {
	case e.Modifier&fyne.KeyModifierShift != 0:
		want = desk.WantFace
	case e.Modifier&fyne.KeyModifierControl != 0:
		want = desk.WantPart
	}
	return t.ends.End(t.w.shown, e.Pick, want, t.w.stage.UnitMM(e.Pick.Point))
}

// Press leaves drags to the view: the scene can be turned while measuring.
func (t *measureTool) Press(view3d.Event) bool { return false }

// Drag does nothing.
func (t *measureTool) Drag(view3d.Event) {}

// Release does nothing.
func (t *measureTool) Release() {}

// Tap takes an end; the second one makes the measurement.
func (t *measureTool) Tap(e view3d.Event) bool {
	if !t.w.measuring() {
		return false
	}
	t.w.reads.ShowAt(e.At, nil)
	t.w.stage.HideBand()
	if !e.Hit {
		return true
	}
	end, _, err := t.end(e)
	if err != nil {
		t.w.hint(phrase.Err(err))
		return true
	}
	t.w.tryLook(func(a *desk.Attention) error {
		m, whole, err := a.TakeEnd(end)
		if whole {
			t.w.edit(func() error { return t.w.desk.Measure(m) })
		}
		return err
	})
	return true
}

// Hover says what a click would take.
func (t *measureTool) Hover(e view3d.Event) bool {
	if !t.w.measuring() {
		return false
	}
	var lines []string
	t.w.stage.HideBand()
	if e.Hit {
		e.Modifier |= modifiers()
		end, words, err := t.end(e)
		t.mark(e, end)
		if err != nil {
			words = phrase.Err(err)
		}
		lines = []string{words}
	}
	t.w.reads.ShowAt(e.At, lines)
	return true
}

// mark puts a small box on the corner or the end of the edge that a click would
// take.
func (t *measureTool) mark(e view3d.Event, end layout.MeasuredEnd) {
	const half = 4
	if end.What != string(gauge.Point) && end.What != string(gauge.Edge) {
		return
	}
	pose := t.w.shown.Items[e.Pick.Item].Pose
	at, ok := t.w.stage.Locate(pose.Point(end.AtMM))
	if !ok {
		return
	}
	lo, hi := at.SubtractXY(half, half), at.AddXY(half, half)
	if end.What == string(gauge.Edge) { // a box around all of it
		to, ok := t.w.stage.Locate(pose.Point(end.ToMM))
		if !ok {
			return
		}
		lo = fyne.NewPos(min(at.X, to.X)-half, min(at.Y, to.Y)-half)
		hi = fyne.NewPos(max(at.X, to.X)+half, max(at.Y, to.Y)+half)
	}
	t.w.stage.SetBand(lo, hi)
}

// unmeasure takes measurements out of the layout.
func (w *Window) unmeasure(rows ...desk.MeasureRow) {
	var gone []layout.Measurement
	for _, r := range rows {
		gone = append(gone, r.Of)
	}
	w.edit(func() error { return w.desk.Unmeasure(gone...) })
}

// copyMeasures puts measurements on the clipboard as text.
func (w *Window) copyMeasures(rows ...desk.MeasureRow) {
	w.app.Clipboard().SetContent(desk.MeasuresText(rows...))
	w.hint(desk.CopiedText(len(rows)))
}
