package theme

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
)

// sign is how a verdict looks: a colour and a shape.
type sign struct {
	color color.NRGBA
	name  string // of the shape
	shape string // SVG element on a 24 by 24 field; %s is its fill and outline
}

// The signs. Colours: M. Okabe and K. Ito, "Color Universal Design" (2008), as
// listed by B. Wong, Nature Methods 8, 441 (2011); figures from memory. The grey
// is ours.
// Read-only.
var (
	round    = sign{rgb(0, 158, 115), "round", `<circle cx="12" cy="12" r="9" %s/>`}
	triangle = sign{rgb(230, 159, 0), "triangle", `<polygon points="12,2.5 22.5,21 1.5,21" %s/>`}
	square   = sign{rgb(213, 94, 0), "square", `<polygon points="3.5,3.5 20.5,3.5 20.5,20.5 3.5,20.5" %s/>`}
	diamond  = sign{rgb(204, 121, 167), "diamond", `<polygon points="12,1 23,12 12,23 1,12" %s/>`}
	ring     = sign{rgb(128, 134, 137), "ring", `<circle cx="12" cy="12" r="8" %s/>`}
)

// signOf returns the sign of a verdict word. Every word without a sign of its
// own ("no rule", "no limit", "not checked") gets the ring.
func signOf(verdict string) sign {
	switch verdict {
	case "ok":
		return round
	case "close":
		return triangle
	case "short", "over":
		return square
	case "overlap":
		return diamond
	}
	return ring
}

// VerdictColor returns the full colour of a verdict, for bars, lines and fills.
// On it alone no text is readable in every look: use TileColor under text.
func VerdictColor(verdict string) color.NRGBA { return signOf(verdict).color }

// tilePrefix begins the names of our own theme colours.
const tilePrefix = "aftbay-tile-"

// TileColor returns the theme's name for the ground of a verdict tile: the
// verdict's colour, mixed into the look until plain text reads well on it.
func TileColor(verdict string) fyne.ThemeColorName {
	return fyne.ThemeColorName(tilePrefix + signOf(verdict).name)
}

// signOfColor undoes TileColor.
func signOfColor(name fyne.ThemeColorName) (sign, bool) {
	shape, ok := strings.CutPrefix(string(name), tilePrefix)
	if !ok {
		return sign{}, false
	}
	for _, s := range []sign{round, triangle, square, diamond, ring} {
		if s.name == shape {
			return s, true
		}
	}
	return sign{}, false
}

// Icon returns the sign of a verdict as a picture, outlined in the colour ink.
// The ring has no fill. Equal arguments give equal bytes and an equal name,
// because the toolkit keeps pictures by name.
func Icon(verdict string, ink color.Color) fyne.Resource {
	s, outline := signOf(verdict), hex(ink)
	paint := fmt.Sprintf(`fill="%s" stroke="%s" stroke-width="1.6" stroke-linejoin="round"`, hex(s.color), outline)
	if s.name == ring.name {
		paint = fmt.Sprintf(`fill="none" stroke="%s" stroke-width="3.2"`, outline)
	}
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="24" height="24" viewBox="0 0 24 24">` +
		fmt.Sprintf(s.shape, paint) + `</svg>`
	return fyne.NewStaticResource(fmt.Sprintf("verdict-%s-%s.svg", s.name, outline[1:]), []byte(svg))
}

func hex(c color.Color) string {
	n := nrgba(c)
	return fmt.Sprintf("#%02x%02x%02x", n.R, n.G, n.B)
}
