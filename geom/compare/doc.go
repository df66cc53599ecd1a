// Package compare says what became of a layout between two states of it: parts
// added, removed, moved and reshaped, and findings new, cured, worse, better or
// the same.
//
// Units: millimetres, degrees. Frame: shifts are in vehicle axes, deviations of
// shape in the part's own frame.
//
// Method: parts are matched by name, findings by their id. A move is the
// largest way that any corner of the part has gone, which is exact: the way is
// a convex function of the place. A change of shape is the Hausdorff distance
// of the two surfaces, both ways, by branch and bound over pieces of triangles:
// a piece lies no further off than the larger of its corners' distances to the
// one triangle of the other mesh that is nearest to its middle, because the
// distance to a convex set is convex. What is given is reached at a point; the
// true figure is larger by ErrorMM at most. Findings are compared with the
// answers as they are; nothing is rounded first.
//
// Limits: a part under another name is one removed and one added. Only what
// fails or is close, before or now, counts as worse or better; the rest has room
// to spare and is counted apart.
//
// Paper: Tang, Lee, Kim, "Interactive Hausdorff distance computation for general
// polygonal models", ACM Transactions on Graphics 28(3), 2009 (bounds by
// subdivision; from memory, no figure of it is used).
package compare
