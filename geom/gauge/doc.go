// Package gauge answers "how far apart are these two, and at what angle?": a
// point, an edge, the axis of a round face, a flat face or a whole part, each
// against each.
//
// Units: mm and radians in the vehicle frame.
//
// Method: edges are segments and end where they end; axes and faces go on, as a
// line and a plane. Two whole parts have their least distance with both points,
// exact for the triangles given (package dist); a part against anything else is
// measured to the point where that was picked. A distance comes with the points
// between which it lies, so that it can be drawn.
//
// Limits: an axis is that of package mesh's Round; where two things cross at an
// angle their distance is 0 and the angle says the rest.
package gauge
