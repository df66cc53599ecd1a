// Package radiate answers who sees whom, and what radiation every patch
// receives, reflections included.
//
// Units: SI; places in mm, vehicle axes. View factors are ratios 0..1.
//
// Method: every patch shoots cosine-weighted rays from points spread over its
// area; the first surface met wins, so blocking costs nothing extra. Samples are
// low-discrepancy (Sobol) with a random digital shift per patch from
// rand.NewPCG(seed, patch). Hits and counter-hits are pooled, which makes
// A₁F₁₂ = A₂F₂₁ exact, then each row is made to sum to 1 by the least change in
// units of the rays' variance; the largest change is reported. Flat patches that
// see each other whole, where a look at the triangles about them is cheap, take
// the exact contour form instead of their rays. Of a scene that was traced before,
// only rays that a moved part can change are traced again. Rays that meet
// nothing go to the surroundings, which are black. A ray that meets a solid from
// within started inside it, where parts overlap: that stretch exchanges with
// itself only.
// The grey-diffuse exchange is solved for every emitter at once: direct radiation
// and reflections between patches, by sweeps over the sparse factors that a
// direct solution between blocks of patches speeds up. What other emissivities
// would change is told between blocks alone.
//
// Limits: diffuse and grey; air does not absorb; one-sided sheets throw back on
// their inner side what falls on it.
//
// Papers: J. H. Lienhard IV & V, A Heat Transfer Textbook, ch. 10; R. Siegel &
// J. R. Howell, Thermal Radiation Heat Transfer (both from memory); S. Joe &
// F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635 (direction numbers, from
// memory).
package radiate
