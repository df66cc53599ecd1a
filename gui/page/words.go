package page

import (
	"strings"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// heading returns the question at the top of a page.
func heading(question string) *widget.Label {
	l := widget.NewLabel(question)
	l.SizeName = fynetheme.SizeNameSubHeadingText
	l.TextStyle = fyne.TextStyle{Bold: true}
	l.Truncation = fyne.TextTruncateEllipsis
	return l
}

// sentence returns a text that wraps.
func sentence() *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	return l
}

// aside returns a quiet text that wraps.
func aside(text string) *widget.Label {
	l := sentence()
	l.SizeName = fynetheme.SizeNameCaptionText
	l.Importance = widget.LowImportance
	l.Text = text
	return l
}

// say sets a text if it differs; an empty one takes no room.
func say(l *widget.Label, lines ...string) {
	text := strings.Join(lines, "\n")
	l.Hidden = text == ""
	if l.Text != text {
		l.SetText(text)
	}
}
