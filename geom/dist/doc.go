// Package dist answers how far apart two meshes are, exactly for their
// triangles, and what they share when they are not apart.
//
// Units mm; points and directions in the vehicle frame; meshes in their own part
// frame with a pose beside them.
//
// Method: a walk over two trees (bvh.Pairs) feeds a triangle-triangle kernel in
// float64. The kernel has no absolute tolerance: the nearest of nine edge pairs
// and six corner-face pairs, then, only where the found direction does not
// separate the two triangles, a crossing test decided by exact arithmetic. A
// triangle without area counts as its edges. Before the kernel is called, both
// triangles are projected on the direction of the best answer so far; a pair
// that this direction already keeps far enough apart is skipped, which loses
// nothing.
//
// Solids: surfaces that stay apart may still be one inside the other, so one
// corner of each connected body is tested by its winding number. Winding, not
// parity: a hollow body (inner shell wound inward) is empty inside, two solids
// that overlap in one file are full where they overlap. Surfaces that meet are
// judged by how deep points of one lie inside the other (overlap.go), with exact
// signs in which ties cannot occur (sos.go). From the same signs follows the
// shared volume (volume.go); the depth is found by branch and bound (depth.go).
//
// Motions: the distance over a box of shifts and turns is bounded by planes that
// lean as the triangles turn (tilt.go), which closes with the square of the
// angles whatever is nearest.
//
// A mesh that crosses itself is told by the same exact signs (self_cross.go).
//
// Limits: rounding, stated with each answer (ErrorMM), some 1e-13 of the largest
// coordinate. Inside has a meaning only for closed meshes with one winding.
//
// Papers: Gottschalk, Lin, Manocha, "OBBTree", 1996; Larsen et al., "Fast
// proximity queries with swept sphere volumes", 1999 (both from memory).
package dist
