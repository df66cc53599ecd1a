package window

import (
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// askToRecover offers the edits that an earlier end has left.
func (w *Window) askToRecover(path string, r *desk.Recovery) {
	title := phrase.Of("Unsaved edits found")
	if r.Title != "" {
		title += ": " + r.Title
	}
	w.ask(title, r.Text(), r.List(),
		choice{says: phrase.Of("Not now")},
		choice{says: phrase.Of("Set them aside"), does: func() { w.openAs(path, desk.PutAside) }},
		choice{says: phrase.Of("Recover"), main: true, does: func() { w.openAs(path, desk.Recover) }},
	)
}

// OfferRecovery looks through the layouts opened last for edits that an earlier
// end has left, and offers the first it finds.
func (w *Window) OfferRecovery() {
	recent := w.o.Remembered.Recent
	w.edits.do("", func() {
		for _, path := range recent {
			if r, err := desk.Recoverable(path); err == nil && r != nil {
				w.o.onMain(func() { w.askToRecover(path, r) })
				return
			}
		}
	})
}

// takeUp brings back edits that were set aside.
func (w *Window) takeUp() {
	path := w.state.Path
	w.afterSaving(func() { w.openAs(path, desk.TakeUp) })
}

// act does what a notice offers.
func (w *Window) act(a desk.Act) {
	switch a {
	case desk.ActReload:
		w.reload()
	case desk.ActKeepMine:
		w.edit(func() error { w.desk.KeepMine(); return nil })
	case desk.ActSaveCopy:
		w.saveAs()
	case desk.ActTakeOver:
		w.Open(w.state.Path)
	case desk.ActUnderstood:
		w.desk.Understood()
	case desk.ActAccept:
		w.edit(w.desk.AcceptMeshes)
	}
}
