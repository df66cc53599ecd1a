package report

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
)

// encodePNG returns the picture as an opaque PNG on white. The same image gives
// the same bytes.
func encodePNG(p *Picture) ([]byte, error) {
	size := p.Image.Bounds().Size()
	flat := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(flat, flat.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), p.Image, p.Image.Bounds().Min, draw.Over)
	var out bytes.Buffer
	if err := png.Encode(&out, flat); err != nil {
		return nil, fmt.Errorf("picture %q: %w", p.Name, err)
	}
	return out.Bytes(), nil
}
