// Package layout is the layout file: the document as plain data, the folder
// that holds it with its meshes, and the checks that a file must pass.
//
// Units: as the file speaks: mm, degrees, °C, kg, s. Frame: vehicle axes, see
// package geom. A pose is written as turn_deg [rx, ry, rz] and move_mm: a mesh
// point p goes to Rz·Ry·Rx·p + move.
//
// Method: Decode reads JSON into a plain tree that refuses repeated keys,
// holds it against the JSON Schema in package assets, then checks what a
// schema can't say (names, references, order of ranges). All faults come back
// at once, each with its line, its place and how to mend it. Encode writes
// keys in one fixed order, so that a file loaded and saved twice is the same.
//
// Saving goes through package disk, so that the old or the new file stands
// whole whatever happens. MeshesName remembers mesh files by content.
//
// Limits: a layout file is at most MaxDocumentBytes with a million values, a
// table of load cases at most four million bytes, any other file at most
// MaxFileBytes. They are held while reading, before memory is taken: in all, a
// hundred megabytes and 130 times the size of what is read, at most half a
// gigabyte for a layout file. Nothing outside the folder is ever read or
// written.
package layout
