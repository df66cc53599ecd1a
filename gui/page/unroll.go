package page

import (
	"time"

	"fyne.io/fyne/v2"
)

const (
	// rowsAtOnce is how many rows of a new list are shown at a time: the toolkit
	// draws each text when it is first seen, some 0.2 ms each, and the hand must
	// not wait for a whole page of them. Common practice, no source.
	rowsAtOnce = 8
	// rowsInSight is how many rows are brought up so; more never fit a screen.
	rowsInSight = 64
	// unrollWithin ends it in any case.
	unrollWithin = 5 * time.Second
)

// unroll shows the rows of a new list a few at each picture. The zero value shows
// all.
type unroll struct {
	shown int // rows so far, 0 for all
	glide *fyne.Animation
}

// of returns how many of n rows are shown.
func (u *unroll) of(n int) int {
	if u.shown > 0 {
		return min(n, u.shown)
	}
	return n
}

// upTo shows a row, which may not have come yet.
func (u *unroll) upTo(row int) {
	if u.shown > 0 {
		u.shown = max(u.shown, row+1)
	}
}

// start shows the first of n rows and then the others; refresh draws the list. The
// first ones are left to the caller.
func (u *unroll) start(n int, refresh func()) {
	if u.glide != nil {
		u.glide.Stop()
		u.glide = nil
	}
	if u.shown = 0; n <= rowsAtOnce {
		return
	}
	u.shown = rowsAtOnce
	var glide *fyne.Animation
	glide = fyne.NewAnimation(unrollWithin, func(done float32) {
		if u.glide != glide && u.glide != nil {
			return // another list has come
		}
		if u.shown += rowsAtOnce; u.shown >= min(n, rowsInSight) || done >= 1 {
			u.shown, u.glide = 0, nil
			glide.Stop()
		}
		refresh()
	})
	glide.Curve = fyne.AnimationLinear
	u.glide = glide
	glide.Start()
}
