// Package review is the projector view: one finding a slide in a window of its
// own that can fill a second screen, while the window of the presenter stays as
// it is. A slide shows the finding with a section through its narrowest place
// and its numbers, and takes decision, owner and due day as they are spoken.
// Everything goes by keys.
//
// All words, figures and times come from package desk; this package lays out
// and forwards. Letters grow with the window: a number takes such a share of
// its height that its digits are an inch high on a picture of a metre, see
// numberShare. Colours are those of the review look, where text keeps a
// contrast of 7 to its ground. All is called on the toolkit's own goroutine.
package review
