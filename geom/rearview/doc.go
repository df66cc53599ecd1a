// Package rearview answers whether the driver sees what must be seen in the
// inside mirror: how much of a prescribed piece of road each eye sees, what
// takes how much of it, and how high each part may stand.
//
// Units mm, radians; shares 0..1. Frame: input and results in the vehicle
// frame; inside, the road frame: the same axes with the road at z = 0, turned
// where the body stands nose up or down.
//
// Method: a plane mirror turns the question into a direct view from the image
// of each eye through the mirror's rectangle. Every point is projected from
// the image eye onto the road, and the road onto one picture that both eyes
// share: a = y/(x-m), b = 60 m/(x-m), m being the X of the middle image eye.
// The horizon is b = 0, straight lines stay straight, and an area there is in
// proportion to the area on an upright plane across the car, which is how the
// regulation weighs what is hidden. In that picture mirror, glass and the
// outlines of the parts are polygons. Of each part only the edges that do not
// cancel between neighbours are kept; a sweep over slabs between their corners
// and crossings adds up exact areas. What both eyes see together is union and
// intersection of the two pictures. Parts between the eyes and the mirror are
// reflected and block as well.
//
// Limits: the mirror is flat; light that passes several panes is not bent. The
// areas are exact for the given triangles but for rounding, about 1e-12 of the
// field. Parts with the roles glass, mirror, sightline and road do not block.
// An engineering check of the geometry, no approval.
//
// Sources: UN Regulation No. 46 para 15.2.4.1, 49 CFR 571.111 S5.1.1; how far
// each clause was read stands beside each rule in rules.go.
package rearview
