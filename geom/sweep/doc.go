// Package sweep answers where a part can be when its group moves, when it
// grows hot, and how much its tolerance takes off.
//
// Units: mm, rad. Frame: vehicle axes (package geom).
//
// A group's motion is a box of six ranges about its pivot,
// R = Rz(yaw)·Ry(pitch)·Rx(roll), then the shift, or a list of named
// positions. Package dist bounds the distance over all shifts and a cell of turns
// at once; this package says which turns these are, and how far any point of a
// part can stray from the cell's middle. Both make the search over the motion a
// certificate and not a sample.
//
// Limits: ranges of turn below 90 degrees each way.
package sweep
