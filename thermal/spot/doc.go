// Package spot answers where a coil or a sensor can be mounted: places on the
// surfaces of its hosts where it sits flat, is reached, is clear of everything,
// can be taken off again and stays cool enough in every heat case, best first;
// and for all other places, the rule that refused them.
//
// Units and frame: millimetres and vehicle axes for places, °C in the results.
//
// Method: places are spread evenly over the hosts' outside by a seeded
// low-discrepancy sequence, weighed by area; at each the component stands in a
// few turns about the surface's normal. Tests run cheapest first and the first
// that fails is counted as the reason. Clearance is judged by the rules of the
// layout as if the component were a part of its host's group, joined to its
// host; temperature by thermal/balance, in every case. Around the best places a
// finer round of candidates follows. A spot's score is its smallest normalised
// margin, see Spot.Score. Leads go around all parts (geom/lead) and keep away
// from hot ones. What one change of the task would open is found by trying the
// refused again under it (change.go). Several components are mounted together
// by branch and bound over the best assignment to sites (joint.go).
//
// Limits: candidates are samples of the surface, so that a small free place may
// be missed; every spot given was tested exactly. Where more than some 150
// places of a round pass all else, the heat of the rest is estimated by few rays
// and the bands of those near by; measured better are all that lie near their
// limit, and finely all that are proposed and all that might be better than the
// best of them (warm.go). The way of a lead is found at rest; slack for what
// moves is added to its length. The component is not an obstacle to heat: parts
// behind it keep their temperatures.
package spot
