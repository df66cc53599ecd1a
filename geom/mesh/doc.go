// Package mesh answers what a part's envelope is: it reads and writes STL,
// judges whether the triangles bound a solid, measures it, mends what can be
// mended safely, and cuts it.
//
// Frame: a mesh lives in its part frame. STL has no unit; ReadSTL gives the
// file's numbers as they are and Scaled brings them to mm. Only Section speaks
// the vehicle frame.
//
// Method: corners are welded where their coordinates are equal (STL repeats a
// corner in every facet that touches it), so that edges can be counted. An edge
// used by one facet is open, one used by more than two is non-manifold. A mesh
// whose every edge is run through as often one way as the other is closed: a
// solid. Inspect counts what is wrong, Faults says where. Volume, centroid and
// inertia are sums of signed tetrahedra about the box centre, with compensated
// sums.
//
// Limits: coordinates are float32, as binary STL stores them; ASCII numbers are
// rounded to the same. Facet normals and colours in a file are ignored: the
// outside of a facet is the side from which its corners run counter-clockwise.
// Corners that differ by one rounding step are not welded.
//
// Source for the tetrahedron sums: B. Mirtich, "Fast and accurate computation
// of polyhedral mass properties", Journal of Graphics Tools 1(2), 1996 (from
// memory); the results are tested against figures computed in extended
// precision.
package mesh
