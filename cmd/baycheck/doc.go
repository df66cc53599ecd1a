// Command baycheck gives the answers of the layout window without a window:
// baycheck VERB LAYOUT [flags]. It builds and runs without C and without a
// display; the same input gives the same bytes, whatever the number of workers.
// See baycheck --help.
package main
