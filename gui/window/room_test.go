package window

import (
	"testing"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// menuHigh is more than the menu bar takes of the window's height in any look.
const menuHigh = 52

// Every page in every look asks for no more than the smallest screen has: a
// window that needs more would grow out of it.
func TestEveryPageFitsTheSmallestScreen(t *testing.T) {
	b := newBench(t)
	for _, look := range []theme.Look{theme.Light, theme.Dark, theme.Review} {
		b.setLook(look)
		for q := range b.pages {
			b.openPage(desk.Question(q))
			b.settle()
			least := b.win.Content().MinSize()
			if least.Width > firstWidth || least.Height > firstHeight-menuHigh {
				t.Errorf("%s, page %d: needs %v by %v", look, q, least.Width, least.Height)
			}
		}
	}
}
