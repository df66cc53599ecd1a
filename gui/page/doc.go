// Package page holds the widgets of the window: the strip of six questions, a
// page for each, the drawer of parts, the drop bar and the status line. A page
// lays out what package desk has put into words and passes on what the reader
// does; it judges nothing.
//
// Every page has an Update method that takes the state of the desk; it changes
// only what differs, so that a list keeps its place while answers come in. All
// is called on the toolkit's own goroutine. Sizes are in the toolkit's units.
package page
