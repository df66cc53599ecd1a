// Package mounts answers where a group goes on its mounts under a load: how far
// it shifts and turns, and how far each mount travels.
//
// Units: mm, N/mm, kg, N·m, rad; accelerations in multiples of standard gravity.
// Frame: vehicle axes (package geom); torques follow the right-hand rule and act
// on the group.
//
// Method: the group is rigid, each mount is three linear springs along the
// vehicle axes that do not resist turning. For small turns a mount travels
// u + θ×r; the six equations of equilibrium are solved by the eigenvectors of
// the 6×6 stiffness, turns scaled by the mounts' spread so that all entries are
// in N/mm. An eigenvalue of nothing names the freedom that no mount holds.
//
// Limits: statics; small turns (refused above MostTurnRad); no bump stops, no
// rubber that stiffens, no change of the weight's lever as the group tips.
//
// Source: static equilibrium of a rigid body on linear springs; for powertrains
// the quasi-static method of Proc. IMechE D (2011), doi 10.1177/0954407011424816
// (abstract seen).
package mounts
