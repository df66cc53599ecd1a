// Package approach answers how far bodies can be shifted along a direction until
// a distance to others is reached: from outside, the first place at which some
// gap has come down to what it must keep; from too near or inside, the first at
// which every gap is kept.
//
// Units: mm. Frame: vehicle axes.
//
// Method: the least of all gaps, each less what it must keep and negative by the
// depth of an overlap, changes by no more than the way itself. So the way may
// always be lengthened by that least value without passing a root, and the first
// root is found for certain (sphere tracing; J. C. Hart, The Visual Computer 12,
// 1996, recalled). A pair is measured again only where its last value, less the
// way since, could be the least.
//
// Limits: reached means within ToleranceMM. Where surfaces cross and no depth is
// known (open bodies) the way goes in steps of CrossingStepMM and a free place
// narrower than that may be passed. What moves turns nothing.
package approach
