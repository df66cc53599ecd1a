package window

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/gui/view3d"
)

// carryKey marks the moves of a carried part among the edits.
const carryKey = "carry"

// carryStepMM is what a carried part's way is rounded to: less cannot be aimed
// with a pointer. Common practice, no source.
const carryStepMM = 0.1

// carry is a part taken along by the pointer.
type carry struct {
	parts []string
	whole bool     // their group goes along
	done  geom.Vec // how far the desk has moved them
	begun bool
}

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
	w.carried = &carry{parts: parts, whole: w.menu.group.Checked}
	return true
}

// carryTo moves what was grabbed; a way that waits is replaced by a newer one.
func (w *Window) carryTo(shift geom.Vec) {
	c := w.carried
	if c == nil {
		return
	}
	for k := range shift {
		shift[k] = math.Round(shift[k]/carryStepMM) * carryStepMM
	}
	w.edits.do(carryKey, func() { // c.done and c.begun belong to this worker
		by := shift.Sub(c.done)
		if by == (geom.Vec{}) {
			return
		}
		move := w.desk.Nudge
		if c.whole {
			move = w.desk.NudgeGroupOf
		}
		if err := move(c.parts, by, c.begun); err != nil {
			w.told(err)
			return
		}
		c.done, c.begun = shift, true
	})
}
