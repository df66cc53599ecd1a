// Package material answers what a material radiates, weighs and stands, and
// where each figure comes from.
//
// The tables are embedded as JSON; every row carries a source key and a status:
// seen (the figure was read in the source), memory (recalled, to be checked
// before use), common practice (trade habit, no source) or computed. Units: SI;
// temperatures of limits in °C as the tables print them.
//
// Limits: emissivities marked with a wavelength band are no total values and
// serve as a range check only; ageing, dust and oil change a surface more than
// the table's digits.
package material
