package report

import (
	"bytes"
	"encoding/gob"
	"image"
	"image/color"
	"image/draw"
	"image/png"

	"codeberg.org/go-pdf/fpdf"

	"aftbay/geom/say"
)

// NewPicture packs an image, laid on white, as a PNG. The same image gives the
// same bytes. Cost: some 50 ms for a picture of 1000 by 640.
func NewPicture(name string, img image.Image, caption string) (*Picture, error) {
	if img == nil || img.Bounds().Empty() {
		return nil, say.Errorf("%w: picture %q: has no image; leave the picture out", ErrModel, name)
	}
	size := img.Bounds().Size()
	if plainImage, ok := img.(*image.RGBA); !ok || !plainImage.Opaque() {
		paper := image.NewRGBA(image.Rectangle{Max: size})
		draw.Draw(paper, paper.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
		draw.Draw(paper, paper.Bounds(), img, img.Bounds().Min, draw.Over)
		img = paper
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return nil, say.Errorf("picture %q: %w", name, err)
	}
	return &Picture{Name: name, Caption: caption, PNG: bytes.Clone(out.Bytes()), SizePx: size}, nil
}

// rank settles the place of the i-th picture in the file. The PDF library sorts
// images by width alone, out of a map: those of one width come in a random
// order. So each picture is made wider by its own few millionths of a pixel,
// which the file, in whole pixels, doesn't show. The library's stored form of an
// image is the one way to its width; a test of equal bytes watches over it.
func rank(info *fpdf.ImageInfoType, i int) error {
	stored, err := info.GobEncode()
	if err != nil {
		return err
	}
	var (
		pixels, mask, palette  []byte
		number, bits           int
		widthPx, heightPx      float64
		space, filter, decoder string
		clear                  []int
		perPoint, dpi          float64
	)
	fields := []any{&pixels, &mask, &number, &widthPx, &heightPx, &space, &palette, &bits, &filter, &decoder, &clear, &perPoint, &dpi}
	in := gob.NewDecoder(bytes.NewReader(stored))
	for _, f := range fields {
		if err := in.Decode(f); err != nil {
			return err
		}
	}
	widthPx += 1e-6 * float64(i)
	var again bytes.Buffer
	out := gob.NewEncoder(&again)
	for _, f := range fields {
		if err := out.Encode(f); err != nil {
			return err
		}
	}
	return info.GobDecode(again.Bytes())
}
