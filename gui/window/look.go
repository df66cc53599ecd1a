package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/theme"
)

// reviewScene is the share of the scene beside the page in the review look: on a
// wall the page needs more room than at the desk.
const reviewScene = 0.44

// setLook changes light, dark or review.
func (w *Window) setLook(look theme.Look) {
	was := w.o.Look
	w.o.Look = look
	for l, i := range w.menu.looks {
		i.Checked = theme.Look(l) == look
	}
	w.menu.main.Refresh()
	w.fitLook(w.win.Canvas().Size().Height)
	w.lookOf(look)
	w.showDrawer(look != theme.Review)
	switch {
	case was != theme.Review && look == theme.Review:
		w.scene = w.work.Offset
		w.work.SetOffset(reviewScene)
	case was == theme.Review && look != theme.Review:
		w.work.SetOffset(w.scene)
	}
}

// fitLook sets the theme of the look in sizes for a window's height, unless it is
// in force.
func (w *Window) fitLook(high float32) {
	now := theme.For(w.o.Look, high)
	if is, ours := w.app.Settings().Theme().(*theme.Theme); ours && is.Same(now) {
		return
	}
	held := w.heldUp()
	w.app.Settings().SetTheme(now)
	w.changed() // on a wall pages show less
	if held {
		w.win.Resize(fyne.NewSize(w.win.Content().MinSize().Width, w.win.Canvas().Size().Height))
	}
}

// heldUp reports whether the window is no wider than it must be: on a small screen
// it may be wider than there is room for.
func (w *Window) heldUp() bool {
	const rounding = 1
	content := w.win.Content()
	return content != nil && w.win.Canvas().Size().Width <= content.MinSize().Width+2*fynetheme.Padding()+rounding
}

// grown is told that the window has another height. The toolkit is laying out
// just then, so the letters follow a little later.
func (w *Window) grown() {
	w.shows.do("letters", func() {
		w.o.onMain(func() { w.fitLook(w.win.Canvas().Size().Height) })
	})
}

// watched fills its room with its objects and tells when the room's height
// changes.
type watched struct {
	high    float32
	resized func()
}

// Layout is the toolkit's.
func (l *watched) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	layout.NewStackLayout().Layout(objects, size)
	if l.high != size.Height {
		l.high = size.Height
		l.resized()
	}
}

// MinSize is the toolkit's.
func (l *watched) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return layout.NewStackLayout().MinSize(objects)
}
