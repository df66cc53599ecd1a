package review

import (
	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/phrase"
)

// Shares of a slide.
const (
	leftShare  = 0.60 // of its width: the large picture
	mostAround = 0.50 // of its height, at most: the small one
	placeShare = 0.25 // of its width: number of the slide and clocks
)

// MinSize is the toolkit's: a slide fills what there is.
func (s *slide) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(320, 240) }

// Layout is the toolkit's.
func (s *slide) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	s.room = size
	pad := s.window.wall.of(padShare)
	top := s.layTop(size, pad)
	low := size.Height - pad - s.bar.high()
	s.edge.Position1, s.edge.Position2 = fyne.NewPos(0, low-pad/2), fyne.NewPos(size.Width, low-pad/2)
	s.bar.content.Move(fyne.NewPos(pad, low))
	s.bar.content.Resize(fyne.NewSize(size.Width-2*pad, s.bar.high()))

	left := leftShare * size.Width
	caption := s.caption.put(pad, low-pad-s.captionHigh(), left-2*pad)
	s.section.Move(fyne.NewPos(pad, top))
	s.section.Resize(fyne.NewSize(left-2*pad, max(1, low-2*pad-caption-top)))
	s.layRight(left, size.Width-pad-left, top, low-pad, pad)
}

func (s *slide) captionHigh() float32 {
	return fyne.MeasureText(phrase.Of("Ag"), s.window.wall.of(smallShare), s.caption.TextStyle).Height
}

// layTop lays out title, place and clocks, and returns where the rest begins.
func (s *slide) layTop(size fyne.Size, pad float32) (below float32) {
	sign := s.window.wall.of(titleShare) * 1.2
	s.mark.Move(fyne.NewPos(pad, pad))
	s.mark.Resize(fyne.NewSquareSize(sign))
	x := 2*pad + sign
	aside := placeShare * size.Width
	y := pad + s.title.put(x, pad, size.Width-x-aside-2*pad)
	below = y + s.under.put(x, y, size.Width-x-aside-2*pad) + pad
	y = pad + s.place.put(size.Width-pad-aside, pad, aside)
	s.clock.put(size.Width-pad-aside, y, aside)
	return below
}

// layRight lays out numbers, lines and the small picture.
func (s *slide) layRight(x, width, top, low, pad float32) {
	y := s.layFigures(x, width, top, pad)
	inset := s.window.wall.Size(fynetheme.SizeNameInnerPadding)
	s.lines.Move(fyne.NewPos(x-inset, y))
	s.lines.Resize(fyne.NewSize(width+2*inset, 1))
	high := s.lines.MinSize().Height
	s.lines.Resize(fyne.NewSize(width+2*inset, high))
	caption := s.captionTwo.put(x, low-s.captionHigh(), width)
	y = max(y+high, low-caption-mostAround*s.room.Height)
	s.around.Move(fyne.NewPos(x, y))
	s.around.Resize(fyne.NewSize(width, max(1, low-caption-y)))
}

// layFigures lays out the numbers, two side by side, all in letters of one
// size, and returns where the rest begins.
func (s *slide) layFigures(x, width, top, pad float32) (y float32) {
	var shown []figure
	for _, f := range s.figures {
		if f.number.Text.Text != "" {
			shown = append(shown, f)
		}
	}
	wide := width
	if len(shown) > 1 {
		wide = (width - 2*pad) / 2
	}
	size := s.window.wall.of(numberShare)
	for _, f := range shown {
		f.number.put(x, top, wide)
		size = min(size, f.number.TextSize)
	}
	y = top
	for k, f := range shown {
		at := x + float32(k%2)*(wide+2*pad)
		head := f.head.put(at, y, wide)
		number := f.number.put(at, y+head, wide)
		f.number.TextSize = size
		if k%2 == 1 || k == len(shown)-1 {
			y += head + number
		}
	}
	return y + pad
}
