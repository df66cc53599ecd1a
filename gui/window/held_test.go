package window

import (
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"weak"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/drop"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
	"aftbay/thermal/balance"
)

// seen are values that a window has shown, without holding them.
type seen[T any] []weak.Pointer[T]

func (s *seen[T]) note(one *T) {
	if w := weak.Make(one); one != nil && !slices.Contains(*s, w) {
		*s = append(*s, w)
	}
}

// held counts those that something still holds.
func (s *seen[T]) held() (n int) {
	for _, w := range *s {
		if w.Value() != nil {
			n++
		}
	}
	return n
}

// watch notes what a window shows.
type watch struct {
	*bench
	scenes seen[scene.Scene]
	fits   seen[clearance.Result]
	drops  seen[drop.Result]
	heats  seen[balance.Result]
}

// look waits for all answers and notes them.
func (w *watch) look() {
	w.t.Helper()
	w.settle()
	a := &w.state.Answers
	w.scenes.note(w.state.Scene)
	w.fits.note(a.Fit.Value)
	w.drops.note(a.Drop.Value)
	w.heats.note(a.Heat.Value)
}

// holds fails if more is held of anything than most says.
func (w *watch) holds(when string, most int) {
	w.t.Helper()
	runtime.GC()
	runtime.GC() // what the first one finalized
	for _, of := range []struct {
		name      string
		held, all int
	}{
		{"scenes", w.scenes.held(), len(w.scenes)},
		{"clearances", w.fits.held(), len(w.fits)},
		{"drops", w.drops.held(), len(w.drops)},
		{"temperatures", w.heats.held(), len(w.heats)},
	} {
		if of.held > most {
			w.t.Errorf("%s: of %d %s that were shown %d are still held, want %d at most", when, of.all, of.name, of.held, most)
		}
	}
}

// heldAnswers is how many answers of one kind a window holds: the present one and
// that of the layout as opened, which "what changed" compares with.
const heldAnswers = 2

// However long one edits, with whatever pages looked at in between, the window
// holds the present answers and those at opening, and runs no more goroutines.
func TestOldAnswersAreLetGo(t *testing.T) {
	w := &watch{bench: newBench(t)}
	w.look()
	goroutines := 0
	for round := range len(w.pages) + 2 {
		w.openPage(desk.Question(round % len(w.pages)))
		w.Look(func(a *desk.Attention) { a.Finding = "block ~ lid @ static" })
		w.look()
		w.Pose("lid", geom.Vec{0, 0, float64(round + 1)}, geom.Vec{}, func(err error) { t.Error(err) })
		w.look()
		w.drop.Slider.SetValue(float64(round + 1))
		w.look()
		w.drop.Slider.SetValue(0)
		w.look()
		w.holds("after an edit", heldAnswers)
		if n, all := running(); round == 0 {
			goroutines = n
		} else if n > goroutines {
			t.Errorf("round %d: %d goroutines, %d at first\n%s", round, n, goroutines, all)
		}
	}
	w.Edit("parts/0")
	w.look()
	w.CloseEditor()
	w.Pose("lid", geom.Vec{0, 0, 20}, geom.Vec{}, func(err error) { t.Error(err) })
	w.look()
	w.holds("after the editor", heldAnswers)
}

// running counts the goroutines, but for those that wait for work: there are never
// more of them than jobs at a time. all says what each does.
func running() (n int, all string) {
	text := make([]byte, 1<<20)
	all = string(text[:runtime.Stack(text, true)])
	return runtime.NumGoroutine() - strings.Count(all, "patient.(*Crew).work("), all
}

// A layout that another takes the place of leaves nothing behind.
func TestOldLayoutsAreLetGo(t *testing.T) {
	w := &watch{bench: newBench(t)}
	for round := range 8 * len(w.pages) {
		w.openPage(desk.Question(round % len(w.pages)))
		w.look()
		w.Open(writeBench(t, "Another"))
		w.look()
		w.holds("after opening another", heldAnswers)
	}
}

// Dialogs that are closed by their buttons are not kept for Escape to close.
func TestClosedDialogsAreLetGo(t *testing.T) {
	b := newBench(t)
	for range 5 {
		b.showHowMade()
		_, buttons := b.dialog()
		test.Tap(buttons["Close"])
		b.showKeys()
		_, buttons = b.dialog()
		test.Tap(buttons["Close"])
	}
	if n := len(b.closable); n > 1 {
		t.Errorf("%d dialogs are kept", n)
	}
}

// A review that has ended holds none of the answers that it showed.
func TestEndedReviewIsLetGo(t *testing.T) {
	w := &watch{bench: newBench(t)}
	for n := range 3 {
		w.startReview(desk.NewReview(&w.state, desk.ReviewChoices[0], desk.ReviewOrders[0], w.fit.Keys(), time.Now()))
		if w.wall == nil {
			t.Fatal("no review")
		}
		w.wall.Window().Resize(fyne.NewSize(1200, 740))
		w.look()
		w.endReview()
		w.Pose("lid", geom.Vec{0, 0, float64(n + 1)}, geom.Vec{}, func(err error) { t.Error(err) })
		w.look()
		w.holds("after a review", heldAnswers)
	}
}
