package window

import "time"

// quietAfter is how long nothing must have happened before it counts as quiet: a
// hand pauses less, and an answer that comes in tells of itself more often.
// Common practice, no source.
const quietAfter = 5 * time.Second

// quiet calls something once nothing has happened for a while, and again after
// whatever happens next. The zero value never does.
type quiet struct{ timer *time.Timer }

// newQuiet returns one that calls does, on a goroutine of its own.
func newQuiet(after time.Duration, does func()) quiet {
	if does == nil {
		return quiet{}
	}
	return quiet{time.AfterFunc(after, does)}
}

// stir says that something happens. Any goroutine may call it.
func (q *quiet) stir() {
	if q.timer != nil {
		q.timer.Reset(quietAfter)
	}
}
