package review

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Window shows one review.
type Window struct {
	host   Host
	win    fyne.Window
	review *desk.Review
	state  *desk.State

	wall    *wall
	cover   *container.ThemeOverride
	slide   *slide
	summary *summary
	help    *fyne.Container // what the keys do
	room    *fyne.Container
	typed   string // digits of a slide to go to
	drawn   drawn
	closed  func()
	gone    bool
}

// drawn tells what the pictures show, so that they are made anew only when that
// changes.
type drawn struct {
	key        string
	scene, fit any
	heat       any
	size       fyne.Size
}

// New makes the window of a review; it is shown by Show. closed is told once it
// is gone.
func New(app fyne.App, host Host, s *desk.State, r *desk.Review, closed func()) *Window {
	w := &Window{host: host, review: r, state: s, wall: newWall(), closed: closed}
	w.win = app.NewWindow(phrase.Of("aftbay review"))
	w.slide = newSlide(w)
	w.summary = newSummary(w)
	keys := widget.NewLabel(keyText)
	keys.Wrapping = fyne.TextWrapWord
	w.help = container.NewBorder(nil, container.NewStack(w.ground(), keys), nil, nil)
	w.help.Hide()
	w.room = container.NewStack(w.ground(), w.slide.content, w.summary.content, w.help)
	w.cover = container.NewThemeOverride(container.New(&scaled{window: w}, w.room), w.wall)
	w.win.SetContent(w.cover)
	w.win.SetPadded(false)
	w.win.SetOnClosed(w.leave)
	w.addKeys()
	w.show()
	return w
}

// firstWidth and firstHeight are the size at which it opens, in the toolkit's
// points: that of a projector of 1280 by 800 less the frame of the window.
const firstWidth, firstHeight = 1200, 740

// ground returns the ground of the look.
func (w *Window) ground() *canvas.Rectangle {
	return canvas.NewRectangle(w.wall.color(fynetheme.ColorNameBackground))
}

// Show opens the window.
func (w *Window) Show() {
	w.win.Resize(fyne.NewSize(firstWidth, firstHeight))
	w.win.Show()
}

// Close closes the window.
func (w *Window) Close() { w.win.Close() }

// leave lets the answers and the pictures go, and says that the window is gone.
// The toolkit remembers the look of every text on the wall, and with it the whole
// wall, for as long as the program runs.
func (w *Window) leave() {
	w.gone = true
	s := *w.state
	s.Answers, s.Scene, s.Against = desk.Answers{}, nil, nil
	w.state, w.drawn = &s, drawn{}
	w.slide.setPictures(nil, nil)
	w.closed()
}

// Window returns the toolkit's window.
func (w *Window) Window() fyne.Window { return w.win }

// Update shows a state.
func (w *Window) Update(s *desk.State) {
	w.state = s
	w.show()
}

// Tick lets the clock go on.
func (w *Window) Tick() {
	w.slide.clock.say(w.review.Clock(w.host.Now()))
	w.slide.bar.tick(desk.DecisionOf(w.state.Doc, w.review.Key()))
	if w.review.Key() == "" {
		w.summary.update(w.state, w.review, w.host.Now())
	}
}

// turn shows another slide, and in the presenter's window what it speaks of.
func (w *Window) turn(to int) {
	if !w.slide.bar.keep() {
		return // a due day that is to be mended first
	}
	w.review.Go(to, w.host.Now())
	w.win.Canvas().Unfocus()
	if key := w.review.Key(); key != "" {
		w.host.Follow(key)
	}
	w.show()
}

// show lays out the slide at hand.
func (w *Window) show() {
	key := w.review.Key()
	w.slide.content.Hidden, w.summary.content.Hidden = key == "", key != ""
	if key == "" {
		w.summary.update(w.state, w.review, w.host.Now())
	} else {
		w.slide.update(w.state, w.review, w.host.Now())
		w.draw()
	}
	w.room.Refresh()
}

// draw asks for the pictures of the slide if they would be others.
func (w *Window) draw() {
	big, small := w.slide.pictureSizes()
	if big.WPx < 16 || big.HPx < 16 {
		return // no size yet
	}
	now := drawn{
		key: w.review.Key(), scene: w.state.Scene, fit: w.state.Answers.Fit.Value, heat: w.state.Answers.Heat.Value,
		size: w.room.Size(),
	}
	if now == w.drawn {
		return
	}
	if now.key != w.drawn.key {
		w.slide.clearPictures()
	}
	w.drawn = now
	w.host.Still(now.key, big, small, func(section, around *desk.Still) {
		if w.review.Key() == now.key && !w.gone {
			w.slide.setPictures(section, around)
		}
	})
}

// scaled gives its room to the slide and its height to the letters.
type scaled struct {
	window *Window
}

// Layout is the toolkit's.
func (l *scaled) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	w := l.window
	changed := w.wall.high != size.Height
	w.wall.high = size.Height
	for _, o := range objects {
		o.Move(fyne.Position{})
		o.Resize(size)
	}
	if changed {
		w.slide.bar.refresh()
		w.help.Refresh()
		w.summary.resized()
	}
	if w.review.Key() != "" {
		w.draw()
	}
}

// MinSize is the toolkit's: any window will do.
func (l *scaled) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(320, 240) }

// keyText says what the keys do. Read-only.
var keyText = phrase.Of("→ Page Down Space  next     ← Page Up  back     Home  first     End  summary     a number, Enter  that slide\n" +
	"A  accepted     R  rejected     C  closed     O  open\n" +
	"W  who     D  due day (+10: in ten days, +2w: in two weeks)     N  what is to be done     Enter  keep     Escape  leave it as it was\n" +
	"P  swap the pictures     T  rest the clock     F  whole screen     Control+Z  undo     Escape  end     ?  these keys")
