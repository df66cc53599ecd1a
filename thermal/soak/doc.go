// Package soak answers how a network of parts warms and cools after key-off:
// peak, time of the peak, time above a limit.
//
// Units: SI, kelvin, seconds.
//
// Method: one temperature per node, C·dT/dt = sum of its heat flows, stepped by
// a linearly implicit method of second order with an error estimate of third
// order; steps grow and shrink with the error, so that a foil shield and an
// engine block go together. Between steps the curve is a cubic through values
// and slopes, from which peaks are read exactly.
//
// Limits: the exchange of radiation is linear in T⁴ with constant factors; air
// is one temperature for all parts.
//
// Paper: L. F. Shampine & M. W. Reichelt, SIAM J. Sci. Comput. 18 (1997) 1-22,
// the modified Rosenbrock pair (from memory; the tests check order and values).
package soak
