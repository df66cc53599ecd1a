// Package outcome says what became of the answers other than clearance between
// two states of a layout: which parts are newly over their limit, cured, hotter
// or cooler, how the window of the drop moved, and what the driver sees now.
//
// Units: millimetres, °C, K, shares of 0..1.
//
// Method: temperatures are matched by case and part, limits of the drop by name.
// New is what fails now and did not; worse is what fails or is close with a
// worse verdict, or off by more than a threshold; cured and better are the same
// the other way round. What changed with room to spare is told apart and is
// neither. The clearances of the same two states are compared by geom/compare.
//
// Limits: temperatures come from rays, which other geometry throws otherwise: a
// change below the threshold may be chance. High ends of the bands are compared,
// by which the verdicts go. A question that one of the two states does not ask is not compared.
package outcome
