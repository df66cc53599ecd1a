package review

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/theme"
)

// Shares of the window's height. Digits are an inch (25.4 mm) high on the wall
// where numberShare·digitShare of the picture's height is, letters shrunk to fit
// included: on all pictures from 0.9 m width on. digitShare is the font's, see
// the test; the others are common practice, no source.
const (
	numberShare = 0.085
	digitShare  = 0.74
	titleShare  = 0.050
	wordShare   = 0.030
	smallShare  = 0.025
	padShare    = 0.012

	// leastHigh keeps letters readable in a window that is very low.
	leastHigh = 420
)

// wall is the review look with sizes for a window's height.
type wall struct {
	*theme.Theme
	high float32
}

func newWall() *wall { return &wall{Theme: theme.New(theme.Review), high: 800} }

// Size scales the text, and what goes with it, with the window.
func (w *wall) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case fynetheme.SizeNameText:
		return w.of(wordShare)
	case fynetheme.SizeNameCaptionText:
		return w.of(smallShare)
	case fynetheme.SizeNameSubHeadingText, fynetheme.SizeNameHeadingText, fynetheme.SizeNameInlineIcon:
		return w.of(titleShare)
	case fynetheme.SizeNamePadding, fynetheme.SizeNameLineSpacing:
		return w.of(padShare) / 2
	case fynetheme.SizeNameInnerPadding:
		return w.of(padShare) / 2
	}
	return w.Theme.Size(name)
}

// of returns a share of the window's height. Bare numbers: a share.
func (w *wall) of(share float32) float32 { return share * max(w.high, leastHigh) }

func (w *wall) color(name fyne.ThemeColorName) color.Color {
	return w.Color(name, fynetheme.VariantLight)
}

// words returns an empty text of a share of the window's height.
func (w *wall) words(share float32, name fyne.ThemeColorName, bold bool) *words {
	t := canvas.NewText("", w.color(name))
	t.TextStyle.Bold = bold
	return &words{Text: t, wall: w, share: share}
}

// words is a line of text that shrinks to its room.
type words struct {
	*canvas.Text
	wall  *wall
	share float32
}

// leastShrink is how far letters may shrink to fit.
const leastShrink = 0.45

// put moves the text into a room, flush right if asked, and returns its height.
func (t *words) put(x, y, width float32) (high float32) {
	t.TextSize = t.wall.of(t.share)
	wide := fyne.MeasureText(t.Text.Text, t.TextSize, t.TextStyle)
	high = wide.Height
	least := leastShrink * t.TextSize
	for wide.Width > width && t.TextSize > least { // widths go by whole pixels: not in one step
		t.TextSize = max(least, t.TextSize*min(0.98, width/wide.Width))
		wide = fyne.MeasureText(t.Text.Text, t.TextSize, t.TextStyle)
	}
	t.Move(fyne.NewPos(x, y))
	t.Resize(fyne.NewSize(width, high))
	return high
}

// say changes the text.
func (t *words) say(text string) {
	if t.Text.Text != text {
		t.Text.Text = text
		t.Refresh()
	}
}
