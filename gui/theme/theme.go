package theme

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
)

// Look is one of the three appearances.
type Look int

// The looks.
const (
	Light  Look = iota // for the desk by day
	Dark               // for the desk by night
	Review             // for the projector: strongest contrast, large text
)

// String returns the word for menus and settings.
func (l Look) String() string {
	switch l {
	case Dark:
		return "dark"
	case Review:
		return "review"
	}
	return "light"
}

// ParseLook returns the look of a word that String gave; anything else is not ok.
func ParseLook(word string) (l Look, ok bool) {
	for _, l := range []Look{Light, Dark, Review} {
		if l.String() == word {
			return l, true
		}
	}
	return Light, false
}

// Theme is the toolkit's theme for one look. It keeps its look whatever light
// or dark the system asks for.
type Theme struct {
	Look Look
	grow float32 // of the review look's sizes: 1 for a window of reviewHigh
	base fyne.Theme
}

// New returns the theme of a look; an unknown one is Light.
func New(look Look) *Theme { return For(look, reviewHigh) }

// For returns the theme of a look for a window of a height, in toolkit units. In
// the review look the letters are a share of the height: from the back of the
// room a line counts by its share of the picture, whatever its pixels.
func For(look Look, high float32) *Theme {
	if look < Light || look > Review {
		look = Light
	}
	t := &Theme{Look: look, grow: 1, base: fynetheme.DefaultTheme()}
	if look == Review {
		text := reviewSizes[fynetheme.SizeNameText]
		t.grow = max(leastReviewText, float32(math.Round(float64(text*high/reviewHigh)))) / text
		return t
	}
	text := deskSizes[fynetheme.SizeNameText]
	t.grow = min(text, max(leastDeskText, float32(math.Round(float64(text*high/deskHigh))))) / text
	return t
}

// Same reports whether two themes look the same.
func (t *Theme) Same(as *Theme) bool { return t.Look == as.Look && t.grow == as.grow }

// Color returns a colour by name: the toolkit's names and those of TileColor.
func (t *Theme) Color(name fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	p := palettes[t.Look]
	if c, ok := p.color(name); ok {
		return c
	}
	if s, ok := signOfColor(name); ok {
		return Blend(s.color, p.card, p.tint)
	}
	return t.base.Color(name, t.variant())
}

func (t *Theme) variant() fyne.ThemeVariant {
	if t.Look == Dark {
		return fynetheme.VariantDark
	}
	return fynetheme.VariantLight
}

// Icon returns the toolkit's icon of that name.
func (t *Theme) Icon(name fyne.ThemeIconName) fyne.Resource { return t.base.Icon(name) }

// deskSizes make rows about a third lower than the toolkit's, so that more
// findings fit on a screen. Toolkit units. Read-only.
var deskSizes = map[fyne.ThemeSizeName]float32{
	fynetheme.SizeNameText:           13,
	fynetheme.SizeNameCaptionText:    11,
	fynetheme.SizeNameSubHeadingText: 16,
	fynetheme.SizeNameHeadingText:    21,
	fynetheme.SizeNamePadding:        3,
	fynetheme.SizeNameInnerPadding:   5,
	fynetheme.SizeNameInlineIcon:     17,
	fynetheme.SizeNameScrollBar:      12,
	fynetheme.SizeNameScrollBarSmall: 4,
	fynetheme.SizeNameLineSpacing:    3,
	fynetheme.SizeNameInputRadius:    3,
}

// deskHigh is the least height of the window that deskSizes are for. A lower one,
// as 200 % leaves on a small screen, has them in proportion, the text in whole
// units from leastDeskText up: a page must fit, and its letters are still larger
// than at 100 %. Common practice, no source.
const (
	deskHigh      = 560
	leastDeskText = 9
)

// reviewHigh is the height of the window that reviewSizes are for, and
// leastReviewText the smallest text of the review look, in any window. Common
// practice, no source.
const (
	reviewHigh      = 1080
	leastReviewText = 9
)

// reviewSizes suit a projector: text twice as high as at the desk, and the
// icons, gaps and borders that go with it, in a window of reviewHigh. A letter of
// the text is then 1/58 of the picture high: 20 arc minutes, which is read at
// ease, from three heights of the picture away (ISO 9241-303 asks for 16 at
// least and 20 to 22; from memory). Toolkit units. Read-only.
var reviewSizes = map[fyne.ThemeSizeName]float32{
	fynetheme.SizeNameText:               26,
	fynetheme.SizeNameCaptionText:        21,
	fynetheme.SizeNameSubHeadingText:     34,
	fynetheme.SizeNameHeadingText:        48,
	fynetheme.SizeNamePadding:            7,
	fynetheme.SizeNameInnerPadding:       11,
	fynetheme.SizeNameInlineIcon:         36,
	fynetheme.SizeNameScrollBar:          22,
	fynetheme.SizeNameScrollBarSmall:     10,
	fynetheme.SizeNameLineSpacing:        6,
	fynetheme.SizeNameSeparatorThickness: 2,
	fynetheme.SizeNameInputBorder:        2,
	fynetheme.SizeNameInputRadius:        3,
}

// Size returns a size by name, in toolkit units.
func (t *Theme) Size(name fyne.ThemeSizeName) float32 {
	sizes := deskSizes
	if t.Look == Review {
		sizes = reviewSizes
	}
	if size, ok := sizes[name]; ok {
		return size * t.grow
	}
	return t.base.Size(name)
}
