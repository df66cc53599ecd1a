// Package patch turns posed parts into patches: small pieces of surface that
// each receive and send radiation as one.
//
// Frame: vehicle axes. This is the one place where the millimetres of geom
// become the metres of thermal: areas here are m². Places stay in mm.
//
// Method: triangles longer than the wanted patch edge are halved across their
// longest edge until they fit; then the triangles of a part are split into
// groups, always the group whose places and normals scatter most, until the
// part has its share of patches. The first few groups are kept as blocks, the
// coarser pieces with which thermal/radiate speeds up reflections. Near a source
// the wanted edge is a quarter of the gap to it, down to half the usual one. Area is
// preserved. A sheet has patches on both sides; whether the inner side radiates
// is settled by thermal/radiate's emissivities.
//
// Limits: the wanted edge is a target. Where all parts together would need more
// than Options.MostPatches, the parts with most patches get fewer.
package patch
