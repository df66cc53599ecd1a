package window

import "fyne.io/fyne/v2"

// sceneMenu lists what the letters in the scene do.
func sceneMenu(w *Window) *fyne.Menu {
	key := func(label string, r rune) *fyne.MenuItem {
		return fyne.NewMenuItem(label+"  ("+string(r)+")", func() { w.sceneRune(r) })
	}
	return fyne.NewMenu("Scene",
		key("Measure", 'M'),
		key("Show or hide measurements", 'D'),
		key("Distances of what fails or is close", 'W'),
		key("Mirror in the corner", 'V'),
		fyne.NewMenuItemSeparator(),
		key("Cut through the finding", 'C'),
		key("Cut across X", 'X'),
		key("Cut across Y", 'Y'),
		key("Cut across Z", 'Z'),
		key("Remove all cuts", 'N'),
		fyne.NewMenuItemSeparator(),
		key("Hide what is selected", 'H'),
		key("See through what is selected", 'G'),
		key("Show only what is selected", 'I'),
		key("Show all parts", 'A'),
	)
}
