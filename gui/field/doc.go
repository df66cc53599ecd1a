// Package field describes every value of a layout that can be edited: what it
// is called, its unit, what it means, which form it has and what it may name.
// It turns typed texts into values and back, and changes a layout by path.
//
// The description is read from the layout's Go types, which give keys and their
// order, and from the JSON Schema in package assets, which gives titles, help
// lines, choices and what a name refers to (its keys x-refers and x-defines).
// A key that is new in both has its editor without a line here.
//
// Paths are JSON pointers such as /parts/3/thermal/power_W; as the last step of
// a list "-" stands for an item still to come. Values are those of JSON: text,
// json.Number, lists, objects; what is not given is nil.
//
// Units: as the file speaks; a typed length, angle, temperature or mass may
// name another unit and is converted (package units).
package field
