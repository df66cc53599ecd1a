// Package assets holds the files that are built into the program, such as the
// JSON Schema of the layout file (lengths in mm, see geom for the frame). It
// holds no logic.
package assets
