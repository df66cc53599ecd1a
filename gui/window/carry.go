package window

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/view3d"
)

// carryKey marks the moves of a carried part among the edits.
const carryKey = "carry"

// carryStepMM is what a carried part's way is rounded to: less cannot be aimed
// with a pointer. Common practice, no source.
const carryStepMM = 0.1

// grab takes the part under the pointer along if Control is held: with what is
// selected if it belongs to it, else alone.
func (w *Window) grab(e view3d.Event) bool {
	part := w.partAt(e)
	if part == "" || modifiers()&fyne.KeyModifierControl == 0 {
		return false
	}
	w.mu.Lock()
	parts := slices.Clone(w.at.Selected)
	w.mu.Unlock()
	if !slices.Contains(parts, part) {
		parts = []string{part}
	}
	load := desk.LoadOf(&w.state, parts, w.menu.group.Checked)
	w.carried = &load
	return true
}

// carryTo moves what was grabbed; a way that waits is replaced by a newer one.
func (w *Window) carryTo(shift geom.Vec) {
	for k := range shift {
		shift[k] = math.Round(shift[k]/carryStepMM) * carryStepMM
	}
	w.carryBy(geom.Shift(shift))
}

// carryBy shows what is carried moved.
func (w *Window) carryBy(by geom.Pose) {
	if w.carried == nil {
		return
	}
	load := *w.carried
	w.edits.do(carryKey, func() {
		if err := w.desk.Carry(load, by); err != nil {
			w.o.onMain(func() {
				if w.carried != nil { // told once, not at every step of the hand
					w.carried = nil
					w.showError(err)
				}
			})
		}
	})
}

// letGo puts what is carried back where it was; false if nothing is.
func (w *Window) letGo() bool {
	if w.carried == nil {
		return false
	}
	w.carried = nil
	w.grip.forget()
	w.edits.do("", w.desk.LetGo)
	return true
}

// putDown makes an edit of where what was carried is now.
func (w *Window) putDown() {
	if w.carried != nil {
		w.carried = nil
		w.edit(w.desk.PutDown)
	}
}
