// Package bvh answers "what of this mesh is near?" without looking at every
// triangle: a bounding-volume tree over one mesh, in the mesh's own part frame,
// so that moving a part costs nothing.
//
// Units mm. Triangles are kept in float64, relative to the tree's origin (a
// float32-rounded point near the middle of the mesh), so that a mesh whose
// coordinates stand 1e5 mm away loses no digits. Bounds are float32, rounded
// outward: they may be a little too large, never too small.
//
// Method: a binary tree built by the surface-area heuristic over sixteen bins;
// siblings lie side by side. Rays walk its straight boxes; a RayTree, for many
// rays, has eight of them to a node where the processor has AVX2 (wide.go).
// Distances walk octets:
// the same tree with eight children to a box, each with a straight and an
// oriented box, whose bounds are computed eight at a time, by AVX2 where the
// processor has it. The assembly gives the bits of the plain code. Walks are depth
// first, nearer child first, on a fixed stack, and allocate nothing. One file per
// walk: walk_ray.go, walk_point.go, walk_pair.go; the bounds are in facing.go.
//
// A Tree is read-only once built; any number of goroutines may walk it.
//
// Papers: Wald, "On fast construction of SAH-based bounding volume hierarchies",
// 2007; Gottschalk, Lin, Manocha, "OBBTree", 1996; Woop, Benthin, Wald,
// "Watertight ray/triangle intersection", JCGT 2(1), 2013; Ize, "Robust BVH ray
// traversal", JCGT 2(2), 2013 (all cited from memory).
package bvh
