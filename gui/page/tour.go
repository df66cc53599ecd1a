package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Tour shows one card after the other over the scene; it takes nothing away
// from the window, which goes on answering.
type Tour struct {
	widget.BaseWidget
	cards            []desk.Card
	at               int
	show             func(c *desk.Card)
	ended            func()
	title, text      *widget.Label
	count            *widget.Label
	Next, Back, Skip *tourButton
	ground           *canvas.Rectangle
	content          fyne.CanvasObject
}

// NewTour returns a hidden tour. show is told each card that comes up, ended
// that the tour was gone through or skipped.
func NewTour(show func(c *desk.Card), ended func()) *Tour {
	t := &Tour{cards: desk.Tour(), show: show, ended: ended, title: heading(""), text: sentence(), count: aside("")}
	t.Next = t.button(phrase.Of("Next"), func() { t.goTo(t.at + 1) })
	t.Next.Importance = widget.HighImportance
	t.Back = t.button(phrase.Of("Back"), func() { t.goTo(t.at - 1) })
	t.Skip = t.button(phrase.Of("Skip the tour"), t.End)
	t.ground = canvas.NewRectangle(nil)
	t.ground.CornerRadius = 6
	t.ground.StrokeWidth = 2
	buttons := container.NewBorder(nil, nil, t.Skip, container.NewHBox(t.Back, t.Next), t.count)
	t.content = container.NewStack(t.ground, container.NewPadded(container.NewBorder(t.title, buttons, nil, nil, t.text)))
	t.ExtendBaseWidget(t)
	t.Hide()
	return t
}

// tourButton is a button on which Escape ends the tour.
type tourButton struct {
	widget.Button
	escape func()
}

func (t *Tour) button(text string, tapped func()) *tourButton {
	b := &tourButton{escape: t.End}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey is the button's, but for Escape.
func (b *tourButton) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		b.escape()
		return
	}
	b.Button.TypedKey(e)
}

// Start shows the first card.
func (t *Tour) Start() {
	t.Show()
	t.goTo(0)
}

// End puts the tour away.
func (t *Tour) End() {
	if t.Visible() {
		t.Hide()
		t.ended()
	}
}

// goTo shows a card; after the last the tour ends.
func (t *Tour) goTo(n int) {
	if n >= len(t.cards) {
		t.End()
		return
	}
	t.at = max(0, n)
	card := &t.cards[t.at]
	t.title.SetText(card.Title)
	t.text.SetText(card.Text)
	t.count.SetText(phrase.F("%d of %d", t.at+1, len(t.cards)))
	enable(&t.Back.Button, t.at > 0)
	t.Next.SetText(phrase.Of("Next"))
	if t.at == len(t.cards)-1 {
		t.Next.SetText(phrase.Of("Done"))
	}
	t.Refresh()
	t.show(card)
}

// tourLetters is the width of a card in letters.
const tourLetters = 66

// MinSize is the toolkit's: a card is as wide as a line can be read, or as there
// is room.
func (t *Tour) MinSize() fyne.Size {
	t.ExtendBaseWidget(t)
	return t.BaseWidget.MinSize()
}

// height returns how high a card of its width is: as high as the longest asks for,
// so that the buttons stay under the pointer.
func (t *Tour) height() float32 {
	own, most := t.text.MinSize().Height, float32(0)
	probe := sentence()
	probe.Resize(fyne.NewSize(t.text.Size().Width, 1))
	for i := range t.cards {
		probe.SetText(t.cards[i].Text)
		most = max(most, probe.MinSize().Height)
	}
	return t.MinSize().Height - own + most
}

// CreateRenderer is the toolkit's.
func (t *Tour) CreateRenderer() fyne.WidgetRenderer {
	return &tourRenderer{t, widget.NewSimpleRenderer(t.content)}
}

type tourRenderer struct {
	tour *Tour
	fyne.WidgetRenderer
}

// Refresh follows the look in force.
func (r *tourRenderer) Refresh() {
	r.tour.ground.FillColor = colorOf(r.tour, fynetheme.ColorNameOverlayBackground)
	r.tour.ground.StrokeColor = colorOf(r.tour, fynetheme.ColorNamePrimary)
	r.WidgetRenderer.Refresh()
}

// TourPlace lays a tour out at the top left of the room over the scene.
type TourPlace struct{}

// MinSize is the toolkit's: the scene says how large it is.
func (TourPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

// Layout is the toolkit's.
func (TourPlace) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	const gap = 8
	wide := min(tourLetters*letterShare*fynetheme.Size(fynetheme.SizeNameText), size.Width-2*gap)
	for _, o := range objects {
		o.Move(fyne.NewPos(gap, gap))
		o.Resize(fyne.NewSize(wide, 1)) // the text wraps
		high := o.MinSize().Height
		if t, ok := o.(*Tour); ok {
			high = t.height()
		}
		o.Resize(fyne.NewSize(wide, min(high, size.Height-2*gap)))
	}
}
