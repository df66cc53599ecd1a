package window

import (
	"fyne.io/fyne/v2"

	"aftbay/gui/phrase"
)

// sceneMenu lists what the letters in the scene do.
func sceneMenu(w *Window) *fyne.Menu {
	key := func(label string, r rune) *fyne.MenuItem {
		return fyne.NewMenuItem(label+"  ("+string(r)+")", func() { w.sceneRune(r) })
	}
	return fyne.NewMenu(phrase.Of("Scene"),
		key(phrase.Of("Measure"), 'M'),
		key(phrase.Of("Show or hide measurements"), 'D'),
		key(phrase.Of("Distances of what fails or is close"), 'W'),
		key(phrase.Of("Mirror in the corner"), 'V'),
		fyne.NewMenuItemSeparator(),
		key(phrase.Of("Cut through the finding"), 'C'),
		key(phrase.Of("Cut across X"), 'X'),
		key(phrase.Of("Cut across Y"), 'Y'),
		key(phrase.Of("Cut across Z"), 'Z'),
		key(phrase.Of("Remove all cuts"), 'N'),
		fyne.NewMenuItemSeparator(),
		key(phrase.Of("Hide what is selected"), 'H'),
		key(phrase.Of("See through what is selected"), 'G'),
		key(phrase.Of("Show only what is selected"), 'I'),
		key(phrase.Of("Show all parts"), 'A'),
	)
}
