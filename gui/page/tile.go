package page

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// Tile shows one question with its answer; a tap opens its page. It can be
// reached and pressed by keyboard.
type Tile struct {
	widget.BaseWidget
	OnTapped func()

	tile             desk.Tile
	chosen           bool
	hovered, focused bool
}

// NewTile returns an empty tile.
func NewTile(tapped func()) *Tile {
	t := &Tile{OnTapped: tapped}
	t.ExtendBaseWidget(t)
	return t
}

// SetTile shows an answer; chosen marks the tile whose page is open.
func (t *Tile) SetTile(tile desk.Tile, chosen bool) {
	if t.tile == tile && t.chosen == chosen {
		return
	}
	t.tile, t.chosen = tile, chosen
	t.Refresh()
}

// Shown returns the answer that the tile shows.
func (t *Tile) Shown() desk.Tile { return t.tile }

// Tapped opens the page.
func (t *Tile) Tapped(*fyne.PointEvent) { t.press() }

func (t *Tile) press() {
	if t.OnTapped != nil {
		t.OnTapped()
	}
}

// TypedKey opens the page with Enter or the space bar; other keys are the window's.
func (t *Tile) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		t.press()
	case fyne.KeyEscape, fyne.KeyF1:
		passKey(t, e)
	}
}

// TypedRune passes letters on.
func (t *Tile) TypedRune(r rune) { passRune(t, r) }

// FocusGained shows the focus ring.
func (t *Tile) FocusGained() { t.focused = true; t.Refresh() }

// FocusLost hides it.
func (t *Tile) FocusLost() { t.focused = false; t.Refresh() }

// MouseIn shows that the tile can be pressed.
func (t *Tile) MouseIn(*desktop.MouseEvent) { t.hovered = true; t.Refresh() }

// MouseMoved does nothing.
func (t *Tile) MouseMoved(*desktop.MouseEvent) {}

// MouseOut undoes MouseIn.
func (t *Tile) MouseOut() { t.hovered = false; t.Refresh() }

// Cursor shows a hand.
func (t *Tile) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is the toolkit's.
func (t *Tile) CreateRenderer() fyne.WidgetRenderer {
	r := &tileRenderer{
		tile: t, ground: &canvas.Rectangle{}, over: &canvas.Rectangle{}, foot: &canvas.Rectangle{},
		mark: theme.VerdictMark(""), news: &canvas.Text{},
	}
	r.objects = []fyne.CanvasObject{r.ground, r.over, r.foot, r.mark, r.news}
	for _, lines := range [][]*canvas.Text{r.question[:], r.answer[:]} {
		for k := range lines {
			lines[k] = &canvas.Text{}
			r.objects = append(r.objects, lines[k])
		}
	}
	r.Refresh()
	return r
}

func (r *tileRenderer) Refresh() {
	t := r.tile
	ink := colorOf(t, fynetheme.ColorNameForeground)
	quiet := colorOf(t, fynetheme.ColorNamePlaceHolder)
	r.ground.FillColor = colorOf(t, fynetheme.ColorNameHeaderBackground)
	if t.tile.Verdict != "" {
		r.ground.FillColor = colorOf(t, theme.TileColor(t.tile.Verdict))
	}
	r.over.FillColor, r.over.StrokeColor, r.over.StrokeWidth = color.Transparent, color.Transparent, 2
	if t.hovered {
		r.over.FillColor = colorOf(t, fynetheme.ColorNameHover)
	}
	if t.focused {
		r.over.StrokeColor = colorOf(t, fynetheme.ColorNamePrimary)
	}
	r.foot.FillColor = color.Transparent
	if t.chosen {
		r.foot.FillColor = colorOf(t, fynetheme.ColorNamePrimary)
	}
	r.mark.SetVerdict(t.tile.Verdict)
	for _, line := range r.question {
		line.Color, line.TextStyle = ink, fyne.TextStyle{Bold: true}
	}
	r.news.Color, r.news.TextSize = ink, r.small()
	for _, line := range r.answer {
		line.Color = ink
		if t.tile.Stale {
			line.Color = quiet // the word beside the question says why
		}
	}
	r.Layout(r.size)
	for _, o := range r.objects {
		o.Refresh()
	}
}

func (r *tileRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *tileRenderer) Destroy()                     {}

// colorOf and sizeOf ask the theme that a widget stands in.
func colorOf(w fyne.Widget, name fyne.ThemeColorName) color.Color {
	return fynetheme.CurrentForWidget(w).Color(name, fyne.CurrentApp().Settings().ThemeVariant())
}

func sizeOf(w fyne.Widget, name fyne.ThemeSizeName) float32 {
	return fynetheme.CurrentForWidget(w).Size(name)
}
