package theme

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

var looks = []Look{Light, Dark, Review}

// verdicts are all words that a row may carry.
var verdicts = []string{"ok", "close", "short", "over", "overlap", "no rule", "no limit"}

func leastText(l Look) float64 {
	if l == Review {
		return LeastReviewContrast
	}
	return LeastTextContrast
}

// seen returns a colour of the theme as it appears over a ground.
func seen(th *Theme, name fyne.ThemeColorName, ground color.Color) color.NRGBA {
	c := nrgba(th.Color(name, fynetheme.VariantLight))
	return Blend(c, ground, float64(c.A)/255)
}

// Every text the toolkit can draw is readable on every ground it can lie on,
// also while pointed at, pressed or selected.
func TestTextReadsOnEveryGround(t *testing.T) {
	test.NewTempApp(t)
	texts := []fyne.ThemeColorName{
		fynetheme.ColorNameForeground, fynetheme.ColorNamePlaceHolder, fynetheme.ColorNameDisabled, fynetheme.ColorNameHyperlink,
		fynetheme.ColorNameError, fynetheme.ColorNameWarning, fynetheme.ColorNameSuccess,
	}
	grounds := []fyne.ThemeColorName{
		fynetheme.ColorNameBackground, fynetheme.ColorNameInputBackground, fynetheme.ColorNameMenuBackground,
		fynetheme.ColorNameOverlayBackground, fynetheme.ColorNameHeaderBackground, fynetheme.ColorNameDisabledButton,
	}
	states := []fyne.ThemeColorName{fynetheme.ColorNameHover, fynetheme.ColorNamePressed, fynetheme.ColorNameSelection, fynetheme.ColorNameFocus}
	for _, look := range looks {
		th := New(look)
		need := func(text, ground string, ratio float64) {
			if ratio < leastText(look) {
				t.Errorf("%v: %s on %s: contrast %.2f, need %.1f", look, text, ground, ratio, leastText(look))
			}
		}
		for _, g := range grounds {
			ground := seen(th, g, color.White)
			for _, text := range texts {
				need(string(text), string(g), Contrast(seen(th, text, ground), ground))
			}
			for _, s := range states {
				need("foreground", string(g)+" under "+string(s), Contrast(th.Color(fynetheme.ColorNameForeground, 0), seen(th, s, ground)))
			}
		}
		for _, s := range append(states, fynetheme.ColorNameButton) {
			button := seen(th, fynetheme.ColorNameButton, color.White)
			need("foreground", "button under "+string(s), Contrast(th.Color(fynetheme.ColorNameForeground, 0), seen(th, s, button)))
		}
	}
}

// What frames an entry or a check box stands out from both its sides.
func TestFramesStandOut(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		p := palettes[look]
		for _, ground := range []color.Color{p.ground, p.card, p.raised, p.field} {
			if got := Contrast(p.border, ground); got < LeastSignContrast {
				t.Errorf("%v: frame on %v: contrast %.2f", look, ground, got)
			}
		}
	}
}

func TestTextReadsOnFilledButtons(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		th := New(look)
		for text, ground := range map[fyne.ThemeColorName]fyne.ThemeColorName{
			fynetheme.ColorNameForegroundOnPrimary: fynetheme.ColorNamePrimary,
			fynetheme.ColorNameForegroundOnError:   fynetheme.ColorNameError,
			fynetheme.ColorNameForegroundOnWarning: fynetheme.ColorNameWarning,
			fynetheme.ColorNameForegroundOnSuccess: fynetheme.ColorNameSuccess,
		} {
			if got := Contrast(th.Color(text, 0), th.Color(ground, 0)); got < leastText(look) {
				t.Errorf("%v: %s: contrast %.2f", look, text, got)
			}
		}
	}
}

func TestTextReadsOnVerdictTiles(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		th := New(look)
		ink := th.Color(fynetheme.ColorNameForeground, 0)
		for _, v := range verdicts {
			tile := th.Color(TileColor(v), 0)
			if got := Contrast(ink, tile); got < leastText(look) {
				t.Errorf("%v: text on the tile %q: contrast %.2f", look, v, got)
			}
			if got := Contrast(ink, seen(th, fynetheme.ColorNameHover, tile)); got < leastText(look) {
				t.Errorf("%v: text on the tile %q, pointed at: contrast %.2f", look, v, got)
			}
			if got := Contrast(th.Color(fynetheme.ColorNamePlaceHolder, 0), tile); got < leastText(look) {
				t.Errorf("%v: an earlier answer on the tile %q: contrast %.2f", look, v, got)
			}
		}
	}
}

// Tiles of different signs differ, in every look.
func TestTilesDiffer(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		th := New(look)
		owner := map[color.Color]string{}
		for _, v := range []string{"ok", "close", "short", "overlap", "no rule"} {
			c := th.Color(TileColor(v), 0)
			if other, ok := owner[c]; ok {
				t.Errorf("%v: %q looks like %q", look, v, other)
			}
			owner[c] = v
		}
	}
}

// The toolkit's own default is what a name falls back to; every colour that it
// has today is ours.
func TestEveryToolkitColorIsOurs(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		for _, name := range []fyne.ThemeColorName{
			fynetheme.ColorNameBackground, fynetheme.ColorNameButton, fynetheme.ColorNameDisabled, fynetheme.ColorNameDisabledButton,
			fynetheme.ColorNameError, fynetheme.ColorNameFocus, fynetheme.ColorNameForeground, fynetheme.ColorNameForegroundOnError,
			fynetheme.ColorNameForegroundOnPrimary, fynetheme.ColorNameForegroundOnSuccess, fynetheme.ColorNameForegroundOnWarning,
			fynetheme.ColorNameHeaderBackground, fynetheme.ColorNameHover, fynetheme.ColorNameHyperlink, fynetheme.ColorNameInputBackground,
			fynetheme.ColorNameInputBorder, fynetheme.ColorNameMenuBackground, fynetheme.ColorNameOverlayBackground,
			fynetheme.ColorNamePlaceHolder, fynetheme.ColorNamePressed, fynetheme.ColorNamePrimary, fynetheme.ColorNameScrollBar,
			fynetheme.ColorNameScrollBarBackground, fynetheme.ColorNameSelection, fynetheme.ColorNameSeparator, fynetheme.ColorNameShadow,
			fynetheme.ColorNameSuccess, fynetheme.ColorNameWarning,
		} {
			if _, ok := palettes[look].color(name); !ok {
				t.Errorf("%v: %s is the toolkit's", look, name)
			}
		}
	}
}

// The look holds whatever the system asks for.
func TestLookIgnoresTheSystem(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		th := New(look)
		for _, name := range []fyne.ThemeColorName{fynetheme.ColorNameBackground, fynetheme.ColorNameForeground, TileColor("ok")} {
			if th.Color(name, fynetheme.VariantDark) != th.Color(name, fynetheme.VariantLight) {
				t.Errorf("%v: %s follows the system", look, name)
			}
		}
	}
}

// On a projector every text is larger than any text of the desk's rows, and
// what goes with it has grown too.
func TestReviewIsLarger(t *testing.T) {
	test.NewTempApp(t)
	desk, review := New(Light), New(Review)
	for name := range deskSizes {
		if name == fynetheme.SizeNameInputRadius {
			continue // a corner, not a size to read
		}
		if got, least := review.Size(name), 1.8*desk.Size(name); got < least {
			t.Errorf("%s: review %g, want at least %g", name, got, least)
		}
	}
	if desk.Size(fynetheme.SizeNamePadding) >= fynetheme.DefaultTheme().Size(fynetheme.SizeNamePadding) {
		t.Error("the desk's rows are no denser than the toolkit's")
	}
}

// In the review look a line is the same share of a window of any height; at the
// desk it is the same in every window of the usual heights, and smaller in those
// that 200 % leaves on a small screen.
func TestReviewGrowsWithTheWindow(t *testing.T) {
	test.NewTempApp(t)
	const text = fynetheme.SizeNameText
	for _, c := range []struct{ high, want float32 }{
		{1080, 26},
		{800, 19},
		{2160, 52},
		{1200, 29},
		{300, leastReviewText}, // a window so low is no picture on a wall
	} {
		if got := For(Review, c.high).Size(text); got != c.want {
			t.Errorf("in a window %g high: text %g, want %g", c.high, got, c.want)
		}
		want := deskSizes[text]
		if c.high < deskHigh {
			want = leastDeskText
		}
		if got := For(Dark, c.high).Size(text); got != want {
			t.Errorf("at the desk, %g high: text %g, want %g", c.high, got, want)
		}
	}
	if !For(Review, 1080).Same(New(Review)) || For(Review, 800).Same(New(Review)) || New(Light).Same(New(Dark)) {
		t.Error("equal and different themes are not told apart")
	}
}

// The toolkit puts the base line on the next whole pixel below the ascent and
// rounds the height of the line: the feet of letters must fit into the rest.
func TestFeetAreNotCut(t *testing.T) {
	test.NewTempApp(t)
	for _, res := range fonts {
		face, err := sfnt.Parse(res.StaticContent)
		if err != nil {
			t.Fatal(err)
		}
		var buf sfnt.Buffer
		const em = 1000
		m, err := face.Metrics(&buf, fixed.I(em), font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		feet := 0.0 // over the size of the letters
		for _, r := range "gjpqy,;Q()" {
			glyph, err := face.GlyphIndex(&buf, r)
			if err != nil {
				t.Fatal(err)
			}
			box, _, err := face.GlyphBounds(&buf, glyph, fixed.I(em), font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			feet = max(feet, float64(box.Max.Y)/64/em)
		}
		for size := 9.0; size < 60; size += 0.5 {
			up := float64(m.Ascent) / 64 / em * size
			down := float64(m.Descent) / 64 / em * size
			if room := math.Round(up+down) - math.Ceil(up); room < feet*size-0.15 { // less is not seen
				t.Errorf("%s of %g: %g pixels for feet of %.2f", res.StaticName, size, room, feet*size)
			}
		}
	}
}

func TestParseLook(t *testing.T) {
	for _, look := range looks {
		if got, ok := ParseLook(look.String()); !ok || got != look {
			t.Errorf("%v became %v, %v", look, got, ok)
		}
	}
	if _, ok := ParseLook("sepia"); ok {
		t.Error("sepia is a look")
	}
	if got := New(Look(99)).Look; got != Light {
		t.Errorf("an unknown look became %v", got)
	}
}

// Every font holds the signs our sentences use, and its figures are equally wide.
func TestFontsHoldOurSigns(t *testing.T) {
	test.NewTempApp(t)
	const signs = "0123456789+−-–.,:;/()[]%°±×·≤≥≈→←↑↓Øøµαεσρ²³½ÄÖÜäöüßéñ“”‘’…•"
	for style, res := range fonts {
		face, err := sfnt.Parse(res.StaticContent)
		if err != nil {
			t.Fatal(err)
		}
		var buf sfnt.Buffer
		width := map[fixed.Int26_6]bool{}
		for _, r := range signs {
			glyph, err := face.GlyphIndex(&buf, r)
			if err != nil || glyph == 0 {
				t.Errorf("%s (%+v) lacks %q", res.StaticName, style, r)
				continue
			}
			if r >= '0' && r <= '9' {
				w, err := face.GlyphAdvance(&buf, glyph, fixed.I(100), font.HintingNone)
				if err != nil {
					t.Fatal(err)
				}
				width[w] = true
			}
		}
		if len(width) != 1 {
			t.Errorf("%s: figures have %d widths", res.StaticName, len(width))
		}
	}
}

func TestSymbolFontIsTheToolkits(t *testing.T) {
	test.NewTempApp(t)
	style := fyne.TextStyle{Symbol: true}
	if got := New(Light).Font(style); got.Name() != fynetheme.DefaultTheme().Font(style).Name() {
		t.Errorf("got %s", got.Name())
	}
	if got := New(Light).Font(fyne.TextStyle{Bold: true, Underline: true}); got.Name() != "text-bold.ttf" {
		t.Errorf("an underlined bold text is set in %s", got.Name())
	}
}
