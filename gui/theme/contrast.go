package theme

import (
	"image/color"
	"math"
)

// Least contrast ratios.
//
// Source: WCAG 2.1, success criteria 1.4.3 (text), 1.4.6 (enhanced), 1.4.11
// (graphical objects).
const (
	LeastTextContrast   = 4.5
	LeastReviewContrast = 7.0
	LeastSignContrast   = 3.0
)

// Contrast returns the contrast ratio of two opaque colours, 1..21, the same
// both ways.
//
// Source: WCAG 2.1, definition of contrast ratio.
func Contrast(a, b color.Color) (ratio float64) {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// luminance returns the relative luminance of an sRGB colour, 0..1. Alpha is
// not looked at.
//
// Source: WCAG 2.1, definition of relative luminance; the threshold 0.04045 is
// that of IEC 61966-2-1 (no 8-bit value lies between it and WCAG's 0.03928).
func luminance(c color.Color) (luminance float64) {
	n := nrgba(c)
	return 0.2126*linear(n.R) + 0.7152*linear(n.G) + 0.0722*linear(n.B)
}

// linear undoes the sRGB transfer curve: 0..255 becomes 0..1.
func linear(channel uint8) float64 {
	v := float64(channel) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Blend returns share of the colour top over ground, per sRGB channel. The
// result is opaque.
func Blend(top, ground color.Color, share float64) color.NRGBA {
	a, b := nrgba(top), nrgba(ground)
	mix := func(x, y uint8) uint8 { return uint8(math.Round(share*float64(x) + (1-share)*float64(y))) }
	return color.NRGBA{R: mix(a.R, b.R), G: mix(a.G, b.G), B: mix(a.B, b.B), A: 255}
}

func nrgba(c color.Color) color.NRGBA { return color.NRGBAModel.Convert(c).(color.NRGBA) }
