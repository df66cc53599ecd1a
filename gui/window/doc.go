// Package window is the aftbay window: it puts the pages of package page and
// the scene of package view3d around a desk, and brings what happens on the
// desk to the screen. It holds no engineering and makes no answers.
//
// Nothing here waits: edits and previews run beside, one after the other, the
// newest preview wins; the state of the desk is fetched and the picture
// composed beside too, at most thirty times a second, and only laying it out
// happens on the toolkit's goroutine.
package window
