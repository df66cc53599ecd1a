package review

import (
	"time"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
)

// Host is the window of the presenter. No call blocks.
type Host interface {
	// Decide settles a finding as an edit; its error goes to failed.
	Decide(of layout.Decision, failed func(err error))
	// Follow shows in the presenter's window what the slide speaks of.
	Follow(key string)
	// Undo takes the last edit back, Redo does it again.
	Undo()
	Redo()
	// Still makes the pictures of a slide beside and hands them over; newer
	// wishes replace older ones.
	Still(key string, section, around desk.StillSize, show func(section, around *desk.Still))
	// Now is the time of the clocks.
	Now() time.Time
}
