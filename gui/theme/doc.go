// Package theme is the look of the window: three looks (light, dark, review),
// their colours, sizes and fonts, and the verdict signs.
//
// A verdict is never colour alone: each has a word, a shape and a colour. The
// colours are the set that M. Okabe and K. Ito published for readers with any
// kind of colour vision ("Color Universal Design", 2008); the shapes are round
// (ok), triangle (close), square (short, over), diamond (overlap) and ring (no
// rule). A sign has an outline in the text colour, because orange alone is too
// pale on a light ground.
//
// Text keeps a contrast of at least 4.5 to its ground, and 7 in the review
// look, which also has larger text for a projector; outlines of signs keep 3.
// Tests compute these ratios as WCAG 2.1 defines them.
//
// Sizes are in the toolkit's units, which grow with the scale of the display.
package theme
