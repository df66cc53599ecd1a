// Package units is the one place where quantities change their unit and become
// text: a length, an angle or a temperature reads the same in the window, the
// command and the report, to the last digit.
//
// Inside, geom speaks mm and radians, thermal SI and kelvin; files, text fields
// and reports speak mm, degrees, °C and kW/m².
//
// Each quantity has a number of decimals chosen so that the last digit still
// means something to its reader. Format… gives number and unit, Number… the
// number alone for table cells whose heading holds the unit. What is not a
// finite number reads "unknown"; a minus stands only before a number that is not
// shown as zero. Numbers use a decimal point and no grouping.
//
// Typed text may use a decimal point or comma and may carry a unit: "12,5 mm",
// "1 in", "0.3 rad".
package units
