// Package clearance answers whether everything fits: for every pair of parts,
// in every state that a rule asks for, how far apart they are, where, and by
// how much that passes or misses the rule.
//
// Units: mm. Frame: vehicle axes (package geom).
//
// States. Static: as posed. Hot: parts with growth scaled about their anchor.
// Moving: every group anywhere in its motion box or at its named positions.
// All together: hot and moving at once, the tolerances of both parts taken off
// (plain sum; the root-sum-square figure stands beside it).
//
// Method. Static and hot are exact for the given triangles (package dist). For
// the moving states the turns are searched by branch and bound with the bound of
// dist.Swept over all shifts and a cell of turns, so that the true least
// clearance lies in [ClearanceMM − ErrorMM, ClearanceMM]. The static row of
// each pair is always there, with verdict "no rule" where nothing is asked.
//
// Rules. The most specific rule wins: part over role over group over *; first
// the more specific side is compared, then the other. At a tie the later one
// wins. The built-in rules by role come before those of the file. Each state
// has its own winner.
//
// Limits: an overlap in a moving state is found for certain, but its depth is
// the deepest of the poses tried; its ErrorMM then covers the whole motion.
package clearance
