// Package scene stands the parts of a layout in their places: meshes read,
// brought to mm, mended and given a tree; routes made into tubes; every part
// with its pose and box.
//
// Units: mm, radians. Frame: meshes and trees in the part frame, poses and
// boxes in the vehicle frame. A turn by quarter turns is exact: see PoseOf.
//
// Method: each mesh file is read once for all parts that use it. A scene built
// before lends what has not changed, judged by size and time of the file, or
// by its contents where those differ. Moved and Placed derive a scene that
// shares everything but the poses.
//
// Limits: a file that was rewritten with the same size within one step of the
// file system's clock counts as unchanged; build without a previous scene to
// be sure.
package scene
