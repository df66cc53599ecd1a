package window

import "context"

// timed runs something on the toolkit's goroutine, which calls it, and measures
// it if that is wanted.
func (w *Window) timed(run func()) {
	if w.pulse != nil {
		w.pulse.around(run)
		return
	}
	run()
}

// patiently runs beside what gives way to all else.
func (w *Window) patiently(run func()) {
	if w.o.crew != nil {
		w.o.crew.Go(run)
		return
	}
	w.o.beside(run)
}

// patience returns the window's context, its work loops on patient threads.
func (w *Window) patience() context.Context {
	if w.o.crew != nil {
		return w.o.crew.Context(w.context)
	}
	return w.context
}
