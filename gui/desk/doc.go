// Package desk is the open layout on the engineer's desk: the document with its
// edits and undo, the answers with how fresh they are, the running jobs, and
// every row and sentence that a page, the command or the report shows. It
// imports no window toolkit: a page only lays out what it gets here.
//
// All texts are made here once, so that the window, the command line and the
// report agree to the last digit.
//
// A layout that is worked on is locked, every edit is in a journal on disk
// before it is shown, and its files are watched: see OpenToWork.
//
// Units in texts: mm, degrees, °C, kg, N. Frame: vehicle axes (package geom).
package desk
