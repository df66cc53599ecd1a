package page

import (
	"image/color"

	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/theme"
)

// large reports whether the letters are for a wall: a page then shows fewer
// things at once.
func large() bool { return fynetheme.Size(fynetheme.SizeNameText) > largeText }

// Turner is a page with several views or subjects, which a key turns to.
type Turner interface {
	// Turn goes on by a number of them, round at the ends.
	Turn(by int)
}

// around returns the place of n that is by further than at, round at the ends;
// of none it is 0.
func around(at, by, n int) int {
	if n < 1 {
		return 0
	}
	return ((at+by)%n + n) % n
}

// inDark reports whether the ground is darker than what is written on it.
func inDark() bool {
	return theme.Contrast(fynetheme.Color(fynetheme.ColorNameBackground), color.Black) < theme.Contrast(fynetheme.Color(fynetheme.ColorNameForeground), color.Black)
}
