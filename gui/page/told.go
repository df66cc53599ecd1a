package page

import (
	"weak"

	"fyne.io/fyne/v2"
)

// idOf names an answer without holding it: what a page was last told of may be of
// a layout that has long been another, and an answer holds all its rays.
func idOf[T any](answer *T) any { return weak.Make(answer) }

// told is what a page was last told of: it is worked out beside, and only when
// it is of something else than before. A layout may have a hundred thousand
// findings, and looking through them takes longer than a window may wait.
type told[K comparable] struct {
	of    K
	known bool
	lays  fyne.CanvasObject // laid out anew after something was shown
}

// ask works beside and shows what came of it, unless it is of the same as last
// time, or of something else by then.
func (t *told[K]) ask(host Host, name string, of K, work func() (show func())) {
	if t.known && t.of == of {
		return
	}
	t.of, t.known = of, true
	host.Beside(name, func() func() {
		show := work()
		return func() {
			if show != nil && t.of == of {
				show()
				relay(t.lays)
			}
		}
	})
}
