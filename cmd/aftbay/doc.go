// Command aftbay opens the layout window.
//
//	aftbay [LAYOUT] [--demo] [--variant bramble-a|bramble-b] [--look light|dark|review]
//
// LAYOUT is a layout folder, its layout.json or an .aftbay file.
package main
