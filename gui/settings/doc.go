// Package settings is what the window remembers from one start to the next: its
// size, how its room is divided, its look, the layouts opened last and how each
// was looked at: camera, cuts, hidden parts.
//
// Units: mm and degrees, vehicle axes.
//
// Method: one JSON file of our own, replaced in one step. A file that is not
// there, damaged or of another program leaves the defaults and never stops the
// start; keys that this version does not know are kept.
package settings
