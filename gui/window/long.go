package window

import (
	"context"
	"errors"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/gui/phrase"
)

const (
	// longAfter is how long something takes before the window tells how far it is:
	// what is over sooner needs no dialog. Common practice, no source.
	longAfter = 300 * time.Millisecond
	// longEvery is how often it is told at most.
	longEvery = 100 * time.Millisecond
)

// long is a command that may take seconds: how far it is, and a way to stop it.
// It is of the toolkit's goroutine.
type long struct {
	w      *Window
	bar    *widget.ProgressBar
	dialog *dialog.CustomDialog // nil until it is shown
	over   bool
	stop   context.CancelFunc
}

// atLength runs a command that may take seconds in its turn among the edits, and
// then, with its error: context.Canceled where it was stopped. From a moment on the
// window tells how far it is, with a way to stop it.
func (w *Window) atLength(title, about string, work func(ctx context.Context, progress geom.Progress) error, then func(err error)) {
	l, ctx := w.newLong(title, about)
	w.edits.do("", func() {
		err := work(ctx, l.progress())
		w.o.onMain(func() {
			l.end()
			then(err)
		})
	})
}

// unlessStopped shows an error, but for that of a command that was stopped.
func (w *Window) unlessStopped(err error) {
	w.changed() // the status line
	if err != nil && !errors.Is(err, context.Canceled) {
		w.showError(err)
	}
}

// newLong begins to tell of a command; its context ends when it is stopped.
func (w *Window) newLong(title, about string) (*long, context.Context) {
	ctx, stop := context.WithCancel(w.context)
	l := &long{w: w, bar: widget.NewProgressBar(), stop: stop}
	show := func() { l.show(title, about) }
	if w.o.crew == nil { // a test, without a clock
		show()
		return l, ctx
	}
	time.AfterFunc(longAfter, func() { w.o.onMain(show) })
	return l, ctx
}

func (l *long) show(title, about string) {
	if l.over {
		return
	}
	text := widget.NewLabel(about)
	text.Wrapping = fyne.TextWrapWord
	l.dialog = dialog.NewCustom(title, phrase.Of("Cancel"), container.NewVBox(text, l.bar), l.w.win)
	l.dialog.SetOnClosed(l.stop) // by its button and by Escape; at the end there is nothing to stop
	l.dialog.Resize(fyne.NewSize(min(480, l.w.win.Canvas().Size().Width*0.9), 180))
	l.w.showClosable(l.dialog)
}

// progress returns what the command tells how far it is. Any goroutine.
func (l *long) progress() geom.Progress {
	var told time.Time
	show := l.w.o.onMain
	if later := l.w.o.later; later != nil { // the work does not wait for it
		show = func(run func()) { later(func() { l.w.timed(run) }) }
	}
	return func(done, total int) {
		if now := time.Now(); total > 0 && now.Sub(told) >= longEvery {
			told = now
			show(func() { l.bar.SetValue(float64(done) / float64(total)) })
		}
	}
}

// end takes it away.
func (l *long) end() {
	l.over = true
	if l.dialog != nil {
		l.dialog.Hide()
	}
	l.stop()
}
