package page

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"
)

const ellipsis = "…"

// measure returns the width of a text.
type measure func(text string) float32

// sized measures texts of a size and style in the font in force.
func sized(size float32, style fyne.TextStyle) measure {
	return func(text string) float32 { return fyne.MeasureText(text, size, style).Width }
}

// wrap breaks a text at spaces into at most most lines of a width; what does
// not fit ends in an ellipsis, and whole is false.
func wrap(text string, width float32, most int, of measure) (lines []string, whole bool) {
	whole = true
	words := unbroken(strings.Fields(text))
	for len(words) > 0 && len(lines) < most {
		n := 1
		for n < len(words) && of(strings.Join(words[:n+1], " ")) <= width {
			n++
		}
		if len(lines) == most-1 {
			n = len(words) // the last line takes the rest and is cut
		}
		line := strings.Join(words[:n], " ")
		lines = append(lines, cut(line, width, of))
		whole = whole && lines[len(lines)-1] == line
		words = words[n:]
	}
	return lines, whole
}

// unbroken keeps a number and its unit on one line: “105 °C” is one word.
func unbroken(words []string) []string {
	var out []string
	for i, word := range words {
		if i > 0 && isNumber(words[i-1]) && isUnit(word) {
			out[len(out)-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

func isNumber(word string) bool {
	_, err := strconv.ParseFloat(strings.Replace(word, "−", "-", 1), 64)
	return err == nil
}

// isUnit reports whether a word, less what closes the sentence, is a unit that
// answers use.
func isUnit(word string) bool {
	switch strings.TrimRight(word, ".,;:)") {
	case "mm", "m", "°C", "K", "%", "kg", "min", "s", "N", "Nm", "W", "kW", "kW/m²", "W/m²":
		return true
	}
	return false
}

// cut shortens a text until it fits a width, with an ellipsis.
func cut(text string, width float32, of measure) string {
	if of(text) <= width {
		return text
	}
	runes := []rune(text)
	fits, tooLong := 0, len(runes)
	for fits+1 < tooLong {
		n := (fits + tooLong) / 2
		if of(string(runes[:n])+ellipsis) <= width {
			fits = n
		} else {
			tooLong = n
		}
	}
	return strings.TrimRight(string(runes[:fits]), " ,;:") + ellipsis
}

// roomOf gives an object the width of a number of letters, whatever the look.
type roomOf float32

// MinSize is the toolkit's.
func (n roomOf) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(float32(n)*letterShare*fynetheme.Size(fynetheme.SizeNameText), objects[0].MinSize().Height)
}

// Layout is the toolkit's.
func (n roomOf) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Move(fyne.Position{})
	objects[0].Resize(size)
}
