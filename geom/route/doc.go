// Package route answers how long a tube, hose or harness along given points
// is, how it bends, and what solid it fills.
//
// Input is the polyline of the centre line in vehicle axes, mm. Each inner
// corner is rounded by an arc of one bend radius that touches both legs; with
// bend radius 0 the corner is mitred instead. The mesh is one closed body with
// flat ends, facets wound outward. Cross-sections are carried along the line
// without twist: on a straight they are shifted, in a bend they are turned
// about the bend's own axis, which is the rotation-minimising frame exactly.
//
// Chord error: all ring vertices lie on the true tube (inscribed). The facets
// therefore lie inside it on the outside of a bend and on straights, and at
// most Length.ChordMM off it anywhere, so a clearance to the true tube is at
// least the clearance to the mesh less ChordMM.
//
// Limits: one bend radius for all corners; legs that pass each other too
// closely are not looked for; springback, ovality and wall are left out.
//
// Source: developed length = straights + radius·angle, set-back =
// radius·tan(angle/2) (tube-bending reference pages). Wire bundle bend radius
// 10 x diameter: US Army TM 1-1500-204-23-4 item 27.
package route
