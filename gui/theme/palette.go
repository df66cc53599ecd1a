package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
)

// palette is the set of colours that one look is made of.
type palette struct {
	ground, card, raised color.NRGBA // window, lists and headings, menus and dialogs
	field, border        color.NRGBA // entries and the track of a slider, and what frames them
	ink, quiet, off      color.NRGBA // text: plain, placeholder, disabled
	line                 color.NRGBA // separators
	accent, onAccent     color.NRGBA // what can be pressed or is chosen, and text on it
	bad, warn, good      color.NRGBA // text colours of the toolkit's own messages
	onSignal             color.NRGBA // text on those three
	tint                 float64     // Bare numbers: share of a verdict's colour in its tile, 0..1
}

// palettes holds one set per look, by Look. The accent is a deep ink
// blue-green, the grounds a warm grey; bad, warn and good are the verdict
// colours, darkened or lightened until they can be read as text. Read-only.
var palettes = [...]palette{
	Light: {
		ground: rgb(244, 242, 237), card: rgb(255, 255, 253), raised: rgb(250, 249, 245),
		ink: rgb(22, 33, 38), quiet: rgb(78, 89, 94), off: rgb(92, 100, 104),
		line: rgb(203, 201, 193), field: rgb(229, 228, 222), border: rgb(118, 124, 124),
		accent: rgb(10, 88, 100), onAccent: rgb(255, 255, 255),
		bad: rgb(160, 62, 0), warn: rgb(120, 79, 0), good: rgb(0, 104, 76),
		onSignal: rgb(255, 255, 255),
		tint:     0.20,
	},
	Dark: {
		ground: rgb(24, 30, 33), card: rgb(32, 39, 43), raised: rgb(41, 49, 53),
		ink: rgb(233, 237, 236), quiet: rgb(176, 186, 189), off: rgb(160, 169, 172),
		line: rgb(72, 82, 86), field: rgb(50, 59, 64), border: rgb(136, 148, 153),
		accent: rgb(112, 200, 208), onAccent: rgb(12, 26, 30),
		bad: rgb(255, 148, 84), warn: rgb(240, 178, 48), good: rgb(74, 200, 160),
		onSignal: rgb(12, 26, 30),
		tint:     0.26,
	},
	Review: {
		ground: rgb(255, 255, 255), card: rgb(255, 255, 255), raised: rgb(255, 255, 255),
		ink: rgb(0, 0, 0), quiet: rgb(46, 54, 58), off: rgb(62, 70, 74),
		line: rgb(120, 126, 128), field: rgb(228, 231, 232), border: rgb(70, 78, 82),
		accent: rgb(6, 70, 80), onAccent: rgb(255, 255, 255),
		bad: rgb(118, 43, 0), warn: rgb(88, 57, 0), good: rgb(0, 74, 54),
		onSignal: rgb(255, 255, 255),
		tint:     0.36,
	},
}

func rgb(r, g, b uint8) color.NRGBA { return color.NRGBA{R: r, G: g, B: b, A: 255} }

func faint(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}

// color returns the colour that the toolkit asks for by name.
func (p palette) color(name fyne.ThemeColorName) (color.NRGBA, bool) {
	switch name {
	case fynetheme.ColorNameBackground:
		return p.ground, true
	case fynetheme.ColorNameInputBackground:
		return p.field, true
	case fynetheme.ColorNameInputBorder:
		return p.border, true
	case fynetheme.ColorNameHeaderBackground:
		return p.card, true
	case fynetheme.ColorNameMenuBackground, fynetheme.ColorNameOverlayBackground:
		return p.raised, true
	case fynetheme.ColorNameForeground:
		return p.ink, true
	case fynetheme.ColorNamePlaceHolder:
		return p.quiet, true
	case fynetheme.ColorNameDisabled:
		return p.off, true
	case fynetheme.ColorNameButton:
		return Blend(p.accent, p.card, 0.12), true
	case fynetheme.ColorNameDisabledButton:
		return Blend(p.line, p.card, 0.12), true
	case fynetheme.ColorNameSeparator:
		return p.line, true
	case fynetheme.ColorNamePrimary, fynetheme.ColorNameHyperlink:
		return p.accent, true
	}
	return p.stateColor(name)
}

// stateColor returns the colours of pointing, choosing and the toolkit's own
// messages.
func (p palette) stateColor(name fyne.ThemeColorName) (color.NRGBA, bool) {
	switch name {
	case fynetheme.ColorNameForegroundOnPrimary:
		return p.onAccent, true
	case fynetheme.ColorNameFocus:
		return faint(p.accent, 84), true
	case fynetheme.ColorNameSelection:
		return faint(p.accent, 56), true
	case fynetheme.ColorNameHover:
		return faint(p.accent, 26), true
	case fynetheme.ColorNamePressed:
		return faint(p.accent, 72), true
	case fynetheme.ColorNameScrollBar:
		return faint(p.quiet, 170), true
	case fynetheme.ColorNameScrollBarBackground:
		return faint(p.line, 60), true
	case fynetheme.ColorNameShadow:
		return color.NRGBA{A: 44}, true
	case fynetheme.ColorNameError:
		return p.bad, true
	case fynetheme.ColorNameWarning:
		return p.warn, true
	case fynetheme.ColorNameSuccess:
		return p.good, true
	case fynetheme.ColorNameForegroundOnError, fynetheme.ColorNameForegroundOnWarning, fynetheme.ColorNameForegroundOnSuccess:
		return p.onSignal, true
	}
	return color.NRGBA{}, false
}
