// Package drop answers how low the powertrain can go: for every limit the
// drops at which it holds, the windows in which all of them hold, what stops it
// at each end, and what the drop buys; against fore-aft shift as a map; and with
// other parts in the place of some.
//
// Units: mm, rad; results in file units (degrees, N). Frame: vehicle axes; a
// drop of q mm shifts the group by (0, 0, −q).
//
// Method. Ground clearance, half-shaft angles and crank against input have
// closed forms; plunge is bisected from its least value. Departure and ramp
// angle and the arc under an axle are least over whole edges of the body's
// outline, found in a profile that keeps only what can be lowest; they are
// sampled over the range and every change is bisected, however many there are.
// Pair clearances change by at most the drop itself, so the walk down may step
// by the margin left without missing anything: the limit is bracketed and
// bisected without assuming that it is the only one. The map uses the same
// bound in two directions: only pairs that could bind at a place are asked.
//
// Limits: the vehicle rests on rigid tyres of the given static loaded radius,
// their contacts straight under the axles; parts are studied cold for ground
// clearance; within overlaps the walk steps by half a millimetre, so that a
// window narrower than that between two overlaps can be missed; masses not given
// are estimated only from a density, and say so.
package drop
