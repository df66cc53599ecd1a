package window

import (
	"fyne.io/fyne/v2"

	"aftbay/gui/settings"
	"aftbay/gui/theme"
)

// remember puts a layout first among those opened last. It is called beside.
func (w *Window) remember(path string) {
	w.keepSettings(func(s *settings.Settings) { s.Opened(path) })
	w.o.onMain(func() {
		w.o.Remembered.Opened(path)
		w.menu.recall(w)
	})
}

// keepSettings changes what is remembered. A failure costs nothing but that.
func (w *Window) keepSettings(change func(s *settings.Settings)) {
	if w.o.SettingsDir != "" {
		_ = settings.Change(w.o.SettingsDir, change) // the work matters more
	}
}

// rememberWindow keeps the window's size, how its room is divided, its look, and
// how the layout is looked at.
func (w *Window) rememberWindow() {
	w.keepView()
	size := w.win.Canvas().Size()
	w.keepSettings(func(s *settings.Settings) {
		s.WidthPx, s.HeightPx = int(size.Width), int(size.Height)
		drawer, scene := settings.Share(w.all.Offset), settings.Share(w.work.Offset)
		if w.o.Look == theme.Review {
			scene = settings.Share(w.scene)
		}
		s.Drawer, s.Scene = &drawer, &scene
		s.Look = w.o.Look.String()
	})
}

// The window's size at the first start, in the toolkit's points: the smallest
// screen that all pages are laid out for, so that nothing opens out of sight.
const (
	firstWidth  = 1280
	firstHeight = 800
)

// startSize returns the size that the window opens with.
func (w *Window) startSize() fyne.Size {
	s := w.o.Remembered
	if s.WidthPx == 0 {
		return fyne.NewSize(firstWidth, firstHeight)
	}
	return fyne.NewSize(float32(s.WidthPx), float32(s.HeightPx))
}

// divide gives the panels their remembered shares.
func (w *Window) divide() {
	w.scene = shareOf(w.o.Remembered.Scene, 0.6)
	w.work.SetOffset(w.scene)
	if w.o.Look == theme.Review {
		w.work.SetOffset(reviewScene)
	}
	w.all.SetOffset(shareOf(w.o.Remembered.Drawer, 0.19))
}

func shareOf(s *settings.Share, otherwise float64) (share float64) { // Bare numbers: shares of a width
	if s == nil {
		return otherwise
	}
	return float64(*s)
}
