// Package simplify answers which coarser mesh may stand for a fine one while it
// is dragged or shown: fewer triangles, and a proven bound on how far the two
// surfaces lie apart.
//
// Units mm; part frame throughout.
//
// Method: edges are collapsed, the one that moves the surface least first, by
// the quadric error of the planes around; the new corner stands where the
// quadrics want it. A collapse is refused when it would change how the surface
// hangs together, turn a facet over, make a needle, or leave a corner of the
// original too far from the facets that stand in its place. Borders are held by
// planes across them.
//
// Proof: what comes out is then checked against the original, both ways. A convex
// piece of a facet lies within the bound of a triangle exactly if its corners do,
// because the distance from a convex set is convex; a piece that no single
// triangle can vouch for is cut along the sides of the nearest one. Where the
// check fails the corners around are kept, and the work begins anew with a
// tighter hand; after some rounds the original is returned instead.
//
// Limits: facets without area and repeated facets are no surface (mesh.Mended
// drops them first). Folds closer than the bound may come to cross each other.
// Answers that must be exact use the original mesh.
//
// Papers: M. Garland, P. S. Heckbert, "Surface simplification using quadric error
// metrics", SIGGRAPH 1997; T. K. Dey et al., "Topology preserving edge
// contraction", 1999 (the link condition); both from memory.
package simplify
