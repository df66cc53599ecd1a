// Package geom answers where things are: vectors, poses, boxes, and the
// order-free work loop that every longer calculation runs on.
//
// Frame: vehicle axes as in ISO 4130 / SAE J1100. X points rearward, Y to the
// right, Z up; right-handed. Turns follow the right-hand rule. Lengths are
// millimetres, angles radians. A Vec is in the vehicle frame unless its name
// says otherwise (partPoint). This is the one place where the axes are defined.
//
// Source: ISO 4130:1978 (zero planes); the signs of the axes are the habit of
// SAE J1100 practice, from memory.
package geom
