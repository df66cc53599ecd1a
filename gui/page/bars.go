package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Bars shows shares as bars: a name, a bar in two tones, a figure. A tap on a
// row goes to OnBar.
type Bars struct {
	widget.BaseWidget
	OnBar func(b desk.Bar)
	bars  []desk.Bar
}

// NewBars returns bars of nothing.
func NewBars(onBar func(b desk.Bar)) *Bars {
	b := &Bars{OnBar: onBar}
	b.ExtendBaseWidget(b)
	return b
}

// SetBars shows others; none take no room.
func (b *Bars) SetBars(bars []desk.Bar) {
	if slices.Equal(bars, b.bars) {
		return
	}
	b.bars = bars
	b.Refresh()
}

// Bars returns what is shown.
func (b *Bars) Bars() []desk.Bar { return b.bars }

// Tapped is the toolkit's.
func (b *Bars) Tapped(e *fyne.PointEvent) {
	if i := int(e.Position.Y / b.step()); b.OnBar != nil && i >= 0 && i < len(b.bars) {
		b.OnBar(b.bars[i])
	}
}

func (b *Bars) text() float32 { return sizeOf(b, fynetheme.SizeNameCaptionText) }

// step is the height of a row.
func (b *Bars) step() float32 { return 1.55 * b.text() }

// MinSize is the toolkit's.
func (b *Bars) MinSize() fyne.Size { return fyne.NewSize(60, b.step()*float32(len(b.bars))) }

// CreateRenderer is the toolkit's.
func (b *Bars) CreateRenderer() fyne.WidgetRenderer {
	r := &barsRenderer{bars: b}
	r.of, r.redraw = b, r.Refresh
	r.Refresh()
	return r
}

type barsRenderer struct {
	drawing
	bars *Bars
}

// leastBar is the share of the width that bars keep, whatever the names.
const leastBar = 0.25

func (r *barsRenderer) Refresh() {
	r.objects = nil
	text, step := r.bars.text(), r.bars.step()
	of := sized(text, fyne.TextStyle{})
	var names, figures float32
	for _, b := range r.bars.bars {
		names, figures = max(names, of(b.Name)), max(figures, of(b.Text))
	}
	gap, room := 0.7*text, r.size.Width-scrollBarRoom()
	names = min(names, room*(1-leastBar)-figures-2*gap)
	from, to := names+gap, room-figures-gap
	for i, b := range r.bars.bars {
		y := step * float32(i)
		r.put(cut(b.Name, names, of), 0, y)
		r.put(b.Text, room-of(b.Text), y)
		wide := max(0, to-from)
		first := wide * float32(max(0, min(1, b.Share)))
		second := wide * float32(max(0, min(1-b.Share, b.SecondShare)))
		r.fill(from, y, wide, fynetheme.ColorNameInputBackground)
		r.fill(from, y, first, fynetheme.ColorNamePrimary)
		r.fill(from+first, y, second, fynetheme.ColorNamePlaceHolder)
	}
}

func (r *barsRenderer) put(text string, x, y float32) {
	t := canvas.NewText(text, colorOf(r.bars, fynetheme.ColorNameForeground))
	t.TextSize = r.bars.text()
	t.Move(fyne.NewPos(x, y+(r.bars.step()-t.MinSize().Height)/2))
	t.Resize(t.MinSize())
	r.objects = append(r.objects, t)
}

func (r *barsRenderer) fill(x, y, width float32, name fyne.ThemeColorName) {
	field := canvas.NewRectangle(colorOf(r.bars, name))
	field.Move(fyne.NewPos(x, y+0.25*r.bars.step()))
	field.Resize(fyne.NewSize(width, 0.5*r.bars.step()))
	r.objects = append(r.objects, field)
}
