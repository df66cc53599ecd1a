package render

import (
	"image"
	"image/color"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// letters is the font of all texts, parsed at first use. Read-only.
var letters = sync.OnceValues(func() (*opentype.Font, error) { return opentype.Parse(gomedium.TTF) })

// place is a point of the finished image, area an upright box.
type (
	place struct{ xPx, yPx float64 }
	area  struct{ leftPx, topPx, rightPx, bottomPx float64 }
)

// writer puts text on the finished image.
type writer struct {
	img    *image.RGBA
	face   font.Face
	sizePx float64 // of the letters
	tone   tones

	lineShare float64 // of the usual width of lines
	taken     []area  // written over so far
	leaders   []leader
}

// newWriter returns a writer of letters sizePx high.
func newWriter(img *image.RGBA, sizePx float64, dark bool) (*writer, error) {
	f, err := letters()
	if err != nil {
		return nil, err
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: sizePx, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, err
	}
	return &writer{img: img, face: face, sizePx: sizePx, tone: tonesOf(dark), lineShare: 1}, nil
}

// widthOf returns the width of a text, px.
func (w *writer) widthOf(text string) float64 {
	return float64(font.MeasureString(w.face, text)) / 64
}

// put writes text with its left end at x and its middle height at y.
func (w *writer) put(xPx, yPx float64, text string, c RGB) {
	d := font.Drawer{
		Dst: w.img, Face: w.face, Src: image.NewUniform(color.RGBA{c.R, c.G, c.B, 255}),
		Dot: fixed.Point26_6{X: fixed.Int26_6(xPx * 64), Y: fixed.Int26_6((yPx + 0.36*w.sizePx) * 64)},
	}
	d.DrawString(text)
}

// plate writes text centred at (x, y) on a rounded plate.
func (w *writer) plate(xPx, yPx float64, text string, ink, ground RGB) {
	halfX, halfY := w.plateSize(text)
	w.taken = append(w.taken, area{xPx - halfX, yPx - halfY, xPx + halfX, yPx + halfY})
	w.pill(xPx, yPx, halfX, halfY, ground, 0.88)
	w.put(xPx-w.widthOf(text)/2, yPx, text, ink)
}

// plateSize returns half the width and height of a text's plate, px.
func (w *writer) plateSize(text string) (halfWidthPx, halfHeightPx float64) {
	return w.widthOf(text)/2 + 0.45*w.sizePx, 0.75 * w.sizePx
}

// freePlace returns the first of the places where a plate covers no other and
// stays on the picture; the first of all if there is none.
func (w *writer) freePlace(text string, places []place) place {
	halfX, halfY := w.plateSize(text)
	for _, at := range places {
		if w.isFree(area{at.xPx - halfX, at.yPx - halfY, at.xPx + halfX, at.yPx + halfY}) {
			return at
		}
	}
	return places[0]
}

// isFree reports whether an area is on the picture and nothing is written there.
func (w *writer) isFree(own area) bool {
	const slack = 1e-6 // of rounding at the rim
	right, bottom := float64(w.img.Rect.Dx())+slack, float64(w.img.Rect.Dy())+slack
	free := own.leftPx >= -slack && own.topPx >= -slack && own.rightPx <= right && own.bottomPx <= bottom
	for _, t := range w.taken {
		free = free && (own.rightPx <= t.leftPx || own.leftPx >= t.rightPx || own.bottomPx <= t.topPx || own.topPx >= t.bottomPx)
	}
	return free
}

// pill fills a box with round corners, a disc when its sides are equal: half
// sizes around a centre.
func (w *writer) pill(xPx, yPx, halfWidthPx, halfHeightPx float64, c RGB, share float64) {
	radius := min(halfWidthPx, halfHeightPx)
	if halfWidthPx != halfHeightPx {
		radius = min(radius, 0.35*w.sizePx)
	}
	around := area{xPx - halfWidthPx, yPx - halfHeightPx, xPx + halfWidthPx, yPx + halfHeightPx}
	w.cover(around, c, share, func(atXPx, atYPx float64) float64 {
		return roundBox(atXPx-xPx, atYPx-yPx, halfWidthPx, halfHeightPx, radius)
	})
}

// cover blends c where outside (px from the shape's rim) is below 0, softly
// over one pixel; the shape lies within around.
func (w *writer) cover(around area, c RGB, share float64, outside func(xPx, yPx float64) float64) {
	r := image.Rect(int(around.leftPx)-2, int(around.topPx)-2, int(around.rightPx)+3, int(around.bottomPx)+3).Intersect(w.img.Rect)
	packed := c.packed()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			in := 0.5 - outside(float64(x)+0.5, float64(y)+0.5)
			if in > 0 {
				i := w.img.PixOffset(x, y)
				blend(w.img.Pix[i:i+4:i+4], packed, uint32(256*min(1, in)*share))
			}
		}
	}
}
