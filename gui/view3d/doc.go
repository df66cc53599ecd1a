// Package view3d is the scene on the screen: a widget that shows a
// render.Scene and turns pointer and keys into camera moves and picks. It knows
// nothing of what the parts mean.
//
// Units: mm in the vehicle frame for the scene; positions of the toolkit in
// device-independent units; pixels are those of the picture.
//
// Method: each change draws one picture at once, at half size if the last one
// took too long; when nothing has changed for a moment, a smooth picture with
// four samples a pixel is drawn beside and swapped in. A change cancels that.
// Everything is called on the toolkit's main goroutine.
//
// Pointer: drag turns about the point under the pointer, Shift or the middle
// button shifts, the wheel zooms to the pointer, a click picks, a secondary
// click asks for a menu. Keys: see keys.go.
package view3d
