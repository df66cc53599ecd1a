// Package convect answers how well air takes heat from a surface: properties
// of dry air, published correlations, and a choice among them by shape,
// attitude and air speed.
//
// Units: SI, kelvin. Properties are taken at the film temperature, the mean of
// surface and air. Similarity numbers (Ra, Re, Pr, Nu) are bare ratios.
//
// Method: natural and forced Nusselt numbers are blended by a power sum (3 for
// plates, 4 for cylinders), so that the film changes smoothly from still air to
// flow; where one of them rules, the other adds next to nothing.
//
// Limits: the correlations hold for single plain shapes in undisturbed air.
// In a bay the film may be off by a factor 0.5 to 2, which is why every result
// carries a band.
//
// Papers: S. W. Churchill & H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975)
// 1323 and 1049; S. W. Churchill & M. Bernstein, J. Heat Transfer 99 (1977) 300;
// J. H. Lienhard IV & V, A Heat Transfer Textbook, ch. 7 and 8.
package convect
