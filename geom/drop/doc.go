// Package drop answers how low the powertrain can go: for every limit the
// drops at which it holds, the window in which all of them hold, what stops it
// at each end, and what the drop buys.
//
// Units: mm, rad; results in file units (degrees, N). Frame: vehicle axes; a
// drop of q mm shifts the group by (0, 0, −q).
//
// Method. Ground clearance, half-shaft angles and plunge have closed forms.
// Departure and ramp angle fall steadily with the drop and are bisected. Pair
// clearances change by at most the drop itself, so the walk down may step by
// the margin left without missing anything: the limit is bracketed and bisected
// without assuming that it is the only one. Several windows are possible.
//
// Limits: the vehicle rests on rigid tyres of the given static loaded radius;
// parts are studied cold for ground clearance; masses not given are listed, not
// guessed.
package drop
