package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// Band draws a temperature from low to high with its nominal value and its
// limit. One without a scale takes no room.
type Band struct {
	widget.BaseWidget
	band desk.BandBar
}

// NewBand returns an empty band.
func NewBand() *Band {
	b := &Band{}
	b.ExtendBaseWidget(b)
	b.Hide()
	return b
}

// SetBand shows another band.
func (b *Band) SetBand(band desk.BandBar) {
	if band == b.band {
		return
	}
	b.band = band
	b.Hidden = !(band.ToDegC > band.FromDegC)
	b.Refresh()
}

// MinSize is the toolkit's.
func (b *Band) MinSize() fyne.Size {
	return fyne.NewSize(80, 4.4*sizeOf(b, fynetheme.SizeNameCaptionText))
}

// CreateRenderer is the toolkit's.
func (b *Band) CreateRenderer() fyne.WidgetRenderer {
	r := &bandRenderer{band: b}
	r.of, r.redraw = b, r.Refresh
	r.Refresh()
	return r
}

type bandRenderer struct {
	drawing
	band *Band
}

func (r *bandRenderer) Refresh() {
	r.objects = nil
	b := &r.band.band
	if !(b.ToDegC > b.FromDegC) || r.size.Width < 40 {
		return
	}
	text := sizeOf(r.band, fynetheme.SizeNameCaptionText)
	top, high := 1.5*text, 1.2*text
	low, nominal, upper := r.x(b.LowDegC), r.x(b.NominalDegC), r.x(b.HighDegC)
	r.fill(0, top+high/2-0.5, r.size.Width, 1, fynetheme.ColorNamePlaceHolder)
	r.fill(low, top, max(2, upper-low), high, theme.TileColor(b.Verdict))
	for _, x := range []float32{low, upper} {
		r.fill(x-0.7, top, 1.4, high, fynetheme.ColorNameForeground)
	}
	r.fill(nominal-1.5, top-0.2*text, 3, high+0.4*text, fynetheme.ColorNamePrimary)
	left := r.put(b.NominalText, nominal, 0, true, nil)
	if b.LimitText != "" {
		at := r.x(b.LimitDegC)
		for y := top - 0.3*text; y < top+high+0.3*text; y += 0.4 * text {
			r.fill(at-1, y, 2, 0.25*text, fynetheme.ColorNameForeground)
		}
		r.put(b.LimitText, at, 0, false, &left)
	}
	first := r.put(b.LowText, low, top+high+0.2*text, false, nil)
	r.put(b.HighText, upper, top+high+0.2*text, false, &first)
}

// x returns where a temperature stands.
func (r *bandRenderer) x(degC float64) float32 {
	b := &r.band.band
	return r.size.Width * float32((degC-b.FromDegC)/(b.ToDegC-b.FromDegC))
}

// span is a stretch across.
type span struct{ from, to float32 }

// put writes a text centred at x as far as there is room, clear of a text that
// stands in the same line.
func (r *bandRenderer) put(text string, x, y float32, bold bool, beside *span) span {
	t := canvas.NewText(text, colorOf(r.band, fynetheme.ColorNameForeground))
	t.TextSize, t.TextStyle.Bold = sizeOf(r.band, fynetheme.SizeNameCaptionText), bold
	wide, gap := t.MinSize().Width, t.TextSize/2
	left := max(0, min(x-wide/2, r.size.Width-wide))
	if beside != nil && left < beside.to+gap && left+wide > beside.from-gap {
		if left = beside.to + gap; x < (beside.from+beside.to)/2 && beside.from-gap-wide >= 0 || left+wide > r.size.Width {
			left = beside.from - gap - wide
		}
	}
	t.Move(fyne.NewPos(left, y))
	t.Resize(t.MinSize())
	r.objects = append(r.objects, t)
	return span{left, left + wide}
}

func (r *bandRenderer) fill(x, y, width, height float32, name fyne.ThemeColorName) {
	field := canvas.NewRectangle(colorOf(r.band, name))
	field.Move(fyne.NewPos(x, y))
	field.Resize(fyne.NewSize(width, height))
	r.objects = append(r.objects, field)
}
