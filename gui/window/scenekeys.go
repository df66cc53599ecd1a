package window

import (
	"unicode"

	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/view3d"
)

// sceneRune does what a letter typed in the scene stands for, see help.go.
func (w *Window) sceneRune(r rune) {
	switch r = unicode.ToUpper(r); r {
	case 'H':
		w.Look((*desk.Attention).HideSelected)
	case 'G':
		w.Look((*desk.Attention).ToggleClear)
	case 'I':
		w.Look(func(a *desk.Attention) { a.Isolate(&w.state) })
	case 'A':
		w.Look((*desk.Attention).ShowAll)
	case 'C':
		w.tryLook(func(a *desk.Attention) error { return a.CutFinding(&w.state) })
	case 'X', 'Y', 'Z':
		w.tryLook(func(a *desk.Attention) error { return a.CutAcross(&w.state, int(r-'X')) })
	case 'M':
		w.Look((*desk.Attention).ToggleMeasuring)
		w.stage.HideBand()
	case 'D':
		w.Look(func(a *desk.Attention) { a.Measures = !a.Measures })
	case 'V':
		w.tryLook(func(a *desk.Attention) error { return a.ToggleMirror(&w.state) })
	case 'W':
		w.Look(func(a *desk.Attention) { a.Gaps = !a.Gaps })
	case 'N':
		w.Look(func(a *desk.Attention) { a.RemoveCut("") })
	}
}

// tryLook changes what is looked at, or says why it cannot.
func (w *Window) tryLook(change func(a *desk.Attention) error) {
	w.Look(func(a *desk.Attention) {
		before := a.Clone()
		if err := change(a); err != nil {
			*a = before
			w.hint(phrase.Err(err))
		}
	})
}

// hint shows a line over the scene until the next picture.
func (w *Window) hint(text string) { w.note.SetText(text) }

// cutHere offers a cut through the point under the pointer.
func (w *Window) cutHere(label string, e view3d.Event, normal geom.Vec) *fyne.MenuItem {
	return fyne.NewMenuItem(label, func() {
		w.tryLook(func(a *desk.Attention) error {
			_, err := a.AddCut(e.Pick.Point, normal, "")
			return err
		})
	})
}
