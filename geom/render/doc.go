// Package render answers "what does it look like, and what is under the
// pointer?": it draws posed meshes into an image with no toolkit, no graphics
// card and no cgo, so the window, the report and the tests show one picture.
//
// Units: mm and radians in the vehicle frame; pixels for everything on the
// picture, x to the right, y down, the centre of pixel (i, j) at (i+½, j+½).
//
// Method: (1) corners are projected and snapped to 1/256 pixel; (2) each
// triangle writes depth and id as one 64-bit number, the nearest wins; every
// worker has a buffer of its own and the greatest number is kept, so the
// picture does not depend on the number of workers; (3) colour comes last, once
// per visible pixel; (4) cuts are capped by counting, at each pixel, how often
// the kept part of a solid is entered and left; (5) edges, ground, dimension
// lines and text are drawn over it, tested against the stored depth.
//
// Limits: caps need closed meshes; see-through parts show their nearest
// surface only; depth is float32 (about 0.001 mm at 5 m).
package render
