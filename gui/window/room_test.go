package window

import (
	"testing"

	"fyne.io/fyne/v2"

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

// Tab reaches all that can be worked with, from the strip by way of the drawer
// and the scene to the page, and comes round again.
func TestTabReachesEverything(t *testing.T) {
	b := newBench(t)
	b.Look(func(a *desk.Attention) { a.Finding = "block ~ lid @ static" })
	b.settle()
	order := map[fyne.Focusable]int{}
	for n := 1; n <= 200; n++ {
		b.win.Canvas().FocusNext()
		f := b.win.Canvas().Focused()
		if f == nil {
			t.Fatal("nothing has the focus")
		}
		if _, again := order[f]; again {
			break
		}
		order[f] = n
	}
	var last int
	for _, want := range []struct {
		name string
		of   fyne.Focusable
	}{
		{"the first question", b.strip.Tile(desk.Fits)},
		{"the last question", b.strip.Tile(desk.Changed)},
		{"the search of parts", b.drawer.Search},

		{"the scene", b.stage},
		{"the drop", b.drop.Slider},
		{"a typed drop", b.drop.Entry},
		{"the search of findings", b.fit.List.Finder.Search},
		{"to narrow", b.fit.List.Finder.Open},
		{"the owner", b.fit.Decides.Owner},
		{"the due day", b.fit.Decides.Due},
	} {
		n, reached := order[want.of]
		switch {
		case !reached:
			t.Errorf("%s is not reached", want.name)
		case n < last:
			t.Errorf("%s comes too early", want.name)
		default:
			last = n
		}
	}
}

// On every page Tab goes through what can be worked with as it is read: down the
// page, along each row.
func TestTabGoesDownEveryPage(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(firstWidth, firstHeight))
	for q := range b.pages {
		b.openPage(desk.Question(q))
		b.settle()
		b.win.Canvas().Unfocus()
		var order []fyne.Position
		seen := map[fyne.Focusable]bool{}
		for {
			b.win.Canvas().FocusNext()
			f := b.win.Canvas().Focused()
			if f == nil || seen[f] {
				break
			}
			seen[f] = true
			at := b.app.Driver().AbsolutePositionForObject(f.(fyne.CanvasObject))
			if page := b.app.Driver().AbsolutePositionForObject(b.pages[q]); at.X >= page.X && at.Y >= page.Y {
				order = append(order, at)
			}
		}
		if len(order) == 0 {
			t.Errorf("page %d: nothing has the focus", q)
		}
		for i := 1; i < len(order); i++ {
			const sameRow = 20
			if was, is := order[i-1], order[i]; is.Y < was.Y-sameRow || is.Y < was.Y+sameRow && is.X < was.X {
				t.Errorf("page %d: from %v back to %v", q, was, is)
			}
		}
	}
}
