package page

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// An answer takes so many lines of a tile in plain letters; a longer one is set
// in small letters.
const (
	plainLines = 2
	smallLines = 3
)

// leastQuestion is how far the letters of a question may shrink to fit.
const leastQuestion = 0.5

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
		mark: theme.VerdictMark(""), question: &canvas.Text{}, news: &canvas.Text{},
	}
	r.objects = []fyne.CanvasObject{r.ground, r.over, r.foot, r.mark, r.question, r.news}
	for range smallLines {
		line := &canvas.Text{}
		r.answer = append(r.answer, line)
		r.objects = append(r.objects, line)
	}
	r.Refresh()
	return r
}

type tileRenderer struct {
	tile               *Tile
	ground, over, foot *canvas.Rectangle
	mark               *theme.Mark
	question, news     *canvas.Text
	answer             []*canvas.Text
	objects            []fyne.CanvasObject
	size               fyne.Size
}

// mostTile is the least width that a tile asks for at most: six of them fit the
// smallest screen in letters of any size.
const mostTile = 196

// edge is the height of the bar under the tile whose page is open.
const edge = 4

func (r *tileRenderer) text() float32 { return sizeOf(r.tile, fynetheme.SizeNameText) }
func (r *tileRenderer) small() float32 {
	return sizeOf(r.tile, fynetheme.SizeNameCaptionText)
}
func (r *tileRenderer) pad() float32 { return 2 * sizeOf(r.tile, fynetheme.SizeNameInnerPadding) }

func (r *tileRenderer) MinSize() fyne.Size {
	line := fyne.MeasureText(phrase.Of("Ag"), r.text(), fyne.TextStyle{}).Height
	small := fyne.MeasureText(phrase.Of("Ag"), r.small(), fyne.TextStyle{}).Height
	return fyne.NewSize(min(10*r.text(), mostTile), r.pad()+line+max(plainLines*line, smallLines*small)+edge)
}

func (r *tileRenderer) Layout(size fyne.Size) {
	r.size = size
	pad, sign := r.pad(), r.mark.MinSize()
	r.ground.Resize(size)
	r.over.Resize(size)
	r.foot.Move(fyne.NewPos(0, size.Height-edge))
	r.foot.Resize(fyne.NewSize(size.Width, edge))
	head := fyne.MeasureText(phrase.Of("Ag"), r.text(), fyne.TextStyle{Bold: true}).Height
	r.mark.Move(fyne.NewPos(pad, pad/2+(head-sign.Height)/2))
	r.mark.Resize(sign)
	left := pad + sign.Width + pad/2
	r.question.Move(fyne.NewPos(left, pad/2))
	letters := r.text()
	bold := sized(letters, fyne.TextStyle{Bold: true})
	for bold(r.tile.tile.Question) > size.Width-left-pad/2 && letters > leastQuestion*r.text() {
		letters -= 0.5
		bold = sized(letters, fyne.TextStyle{Bold: true})
	}
	r.question.TextSize = letters
	r.question.Text = cut(r.tile.tile.Question, size.Width-left-pad/2, bold)
	room := size.Width - left - bold(r.question.Text) - pad
	r.news.Text = ""
	if small := sized(r.news.TextSize, fyne.TextStyle{}); room > 3*r.text() {
		r.news.Text = shorter(r.newsText(), room-pad/2, small)
		r.news.Move(fyne.NewPos(size.Width-pad/2-small(r.news.Text), pad/2+2))
	}
	r.layAnswer(pad, pad/2+head+2, size.Width-1.5*pad)
}

// layAnswer sets the answer in plain letters, or in small ones if it is long.
func (r *tileRenderer) layAnswer(left, top, width float32) {
	letters := r.text()
	lines, whole := wrap(r.tile.tile.Answer, width, plainLines, sized(letters, fyne.TextStyle{}))
	if !whole {
		letters = r.small()
		lines, _ = wrap(r.tile.tile.Answer, width, smallLines, sized(letters, fyne.TextStyle{}))
	}
	step := fyne.MeasureText(phrase.Of("Ag"), letters, fyne.TextStyle{}).Height
	for i, text := range r.answer {
		text.Text, text.TextSize = "", letters
		if i < len(lines) {
			text.Text = lines[i]
		}
		text.Move(fyne.NewPos(left, top+float32(i)*step))
	}
}

// shorter leaves the word away that stands before the dots and the share done,
// rather than cut a text amid a word.
func shorter(news string, width float32, of measure) string {
	if at := strings.LastIndex(news, ellipsis); at > 0 && of(news) > width {
		news = news[at:]
	}
	return cut(news, width, of)
}

// newsText tells how current the answer is.
func (r *tileRenderer) newsText() string {
	switch {
	case r.tile.tile.Busy != "":
		return r.tile.tile.Busy
	case r.tile.tile.Stale:
		return phrase.Of("earlier state")
	}
	return ""
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
	r.question.Color, r.question.TextStyle = ink, fyne.TextStyle{Bold: true}
	r.news.Color, r.news.TextSize = ink, sizeOf(t, fynetheme.SizeNameCaptionText)
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
