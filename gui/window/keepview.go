package window

import (
	"path/filepath"

	"aftbay/gui/desk"
	"aftbay/gui/settings"
)

// view returns how the open layout is looked at; ok is false without one. What a
// finding or a list has led the camera to does not count.
func (w *Window) view() (v settings.View, ok bool) {
	if !w.state.Open || w.path == "" {
		return v, false
	}
	at, c := w.attention(), w.stage.Camera()
	if w.before != nil {
		c = *w.before
	}
	return desk.ViewOf(fullPath(w.path), &w.state, &at, c), true
}

// keepView remembers how the open layout is looked at, before another takes its
// place or the window ends.
func (w *Window) keepView() {
	if v, ok := w.view(); ok {
		w.o.Remembered.Looked(v)
		w.keepSettings(func(s *settings.Settings) { s.Looked(v) })
	}
}

// recallView looks at the layout that was just opened as it was left, or afresh.
func (w *Window) recallView() {
	s := w.desk.State()
	v, known := w.o.Remembered.ViewOf(fullPath(s.Path))
	w.Look(func(a *desk.Attention) {
		*a = desk.Attention{Page: a.Page, Ghost: a.Ghost, Shells: a.Shells, Measures: a.Measures, Mirror: a.Mirror, Gaps: a.Gaps}
		if known {
			a.Recall(&v, &s)
		}
	})
	w.before = nil
	at := w.attention()
	w.menu.ghost.Checked, w.menu.shells.Checked = at.Ghost, at.Shells
	w.menu.main.Refresh()
}

// fitTo brings a layout into view as it was left, or all of it, unless it has
// been.
func (w *Window) fitTo(path string) {
	if path == w.fitted {
		return
	}
	w.fitted = path
	if v, known := w.o.Remembered.ViewOf(fullPath(path)); known {
		if c, ok := desk.CameraOf(&v, w.stage.Camera()); ok {
			w.stage.SetCamera(c)
			return
		}
	}
	w.stage.FitAll()
}

// fullPath returns a path from the root, as the settings name layouts.
func fullPath(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		return full
	}
	return path
}
