package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/gomonobolditalic"
	"golang.org/x/image/font/gofont/gomonoitalic"
	"golang.org/x/image/font/gofont/goregular"
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
	base fyne.Theme
}

// New returns the theme of a look; an unknown one is Light.
func New(look Look) *Theme {
	if look < Light || look > Review {
		look = Light
	}
	return &Theme{Look: look, base: fynetheme.DefaultTheme()}
}

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

// fonts are the Go fonts: they hold ≤ ≥ ≈ → ° ² Ø, are the same on every
// machine, and their figures are equally wide, so columns of numbers line up.
// Read-only.
var fonts = map[fyne.TextStyle]*fyne.StaticResource{
	{}:                         fyne.NewStaticResource("text.ttf", goregular.TTF),
	{Bold: true}:               fyne.NewStaticResource("text-bold.ttf", gobold.TTF),
	{Italic: true}:             fyne.NewStaticResource("text-italic.ttf", goitalic.TTF),
	{Bold: true, Italic: true}: fyne.NewStaticResource("text-bold-italic.ttf", gobolditalic.TTF),

	{Monospace: true}:                           fyne.NewStaticResource("mono.ttf", gomono.TTF),
	{Monospace: true, Bold: true}:               fyne.NewStaticResource("mono-bold.ttf", gomonobold.TTF),
	{Monospace: true, Italic: true}:             fyne.NewStaticResource("mono-italic.ttf", gomonoitalic.TTF),
	{Monospace: true, Bold: true, Italic: true}: fyne.NewStaticResource("mono-bold-italic.ttf", gomonobolditalic.TTF),
}

// Font returns the font of a style; symbols come from the toolkit.
func (t *Theme) Font(style fyne.TextStyle) fyne.Resource {
	if style.Symbol {
		return t.base.Font(style)
	}
	return fonts[fyne.TextStyle{Bold: style.Bold, Italic: style.Italic, Monospace: style.Monospace}]
}

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

// reviewSizes suit a projector: text twice as high as at the desk, and the
// icons, gaps and borders that go with it. Toolkit units. Read-only.
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
		return size
	}
	return t.base.Size(name)
}
