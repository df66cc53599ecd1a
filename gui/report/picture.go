package report

import (
	"bytes"
	"context"
	"encoding/gob"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"slices"

	"codeberg.org/go-pdf/fpdf"

	"aftbay/geom"
)

// encoder turns a picture into the bytes of a PNG.
type encoder func(p *Picture) ([]byte, error)

// encodeAll encodes the pictures of m side by side and returns an encoder that
// hands them out.
func encodeAll(m *Model) (encoder, error) {
	all := pictures(m)
	data := make([][]byte, len(all))
	err := geom.Each(context.Background(), 0, len(all), nil, func(i int) (err error) {
		data[i], err = encodePNG(all[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	return func(p *Picture) ([]byte, error) {
		i := slices.Index(all, p)
		if i < 0 {
			return nil, fmt.Errorf("picture %q: is not listed among the pictures of the model", p.Name)
		}
		return data[i], nil
	}, nil
}

// encodePNG returns the picture as an opaque PNG on white. The same image gives
// the same bytes.
func encodePNG(p *Picture) ([]byte, error) {
	var flat image.Image = p.Image
	if plainImage, ok := p.Image.(*image.RGBA); !ok || !plainImage.Opaque() {
		size := p.Image.Bounds().Size()
		paper := image.NewRGBA(image.Rectangle{Max: size})
		draw.Draw(paper, paper.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
		draw.Draw(paper, paper.Bounds(), p.Image, p.Image.Bounds().Min, draw.Over)
		flat = paper
	}
	var out bytes.Buffer
	if err := png.Encode(&out, flat); err != nil {
		return nil, fmt.Errorf("picture %q: %w", p.Name, err)
	}
	return out.Bytes(), nil
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
