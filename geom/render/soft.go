package render

import (
	"encoding/binary"
	"math"
)

// Soft shading darkens creases and narrow gaps, as light of a bright sky would:
// it tells the eye how parts lie to each other. It looks at the stored depths
// only, so it is a drawing aid, not a light calculation.
//
// Method: pairs of opposite taps around a pixel. On a plane, whichever way it
// leans, depth values of opposite taps cancel; in a crease they do not.
const (
	softReachMM = 70   // how far around a pixel is looked
	softMinPx   = 3    // reach on the picture, least
	softMaxPx   = 36   // and most
	softShare   = 0.55 // darkest shade
	softPairs   = 8
)

// softTaps is a spiral of offsets, in parts of the reach. Read-only.
var softTaps = makeSoftTaps()

func makeSoftTaps() [softPairs][2]float64 {
	var taps [softPairs][2]float64
	for i := range taps {
		r := math.Sqrt((float64(i) + 0.7) / softPairs)
		s, c := math.Sincos(2.399963 * float64(i)) // the golden angle spreads evenly
		taps[i] = [2]float64{r * c, r * s}
	}
	return taps
}

// soften darkens the samples of the canvas. Items coloured by a field keep
// their colours, which are to be read off.
func (p *painter) soften() {
	if !p.o.Soft {
		return
	}
	w, h := p.f.Image.Rect.Dx(), p.f.Image.Rect.Dy()
	shade := make([]float32, w*h)
	p.each(h, func(y int) { p.softRow(y, w, h, shade[y*w:(y+1)*w]) })
	smooth := make([]float32, w*h)
	p.each(h, func(y int) { p.smoothRow(y, w, h, shade, smooth[y*w:(y+1)*w]) })
	p.bands(func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			p.darkenRow(y, w, smooth)
		}
	})
}

// depthAt returns the depth value in the middle of a pixel, 0 for background.
func (p *painter) depthAt(x, y int) float64 {
	s := p.f.samples
	return nearnessOf(p.f.buf.vis[(y*s+s/2)*p.f.w+x*s+s/2])
}

// softRow finds for each pixel of a row how much of the sky is hidden, 0..1.
func (p *painter) softRow(y, w, h int, out []float32) {
	v := &p.f.view
	for x := range out {
		z := p.depthAt(x, y)
		out[x] = 0
		if z == 0 {
			continue
		}
		// Reach in pixels, and how much of it one unit of depth value is.
		depthMM := v.depthMM(z)
		perMM := v.scalePx / depthMM
		unit := depthMM * depthMM / softReachMM
		if v.cam.Parallel {
			perMM = v.scalePx / v.cam.DistMM
			unit = 2 * v.rangeMM / softReachMM
		}
		reach := max(softMinPx, min(softMaxPx, softReachMM*perMM/float64(p.f.samples)))
		// A pattern of 4×4 turns, evened out afterwards, stands for more taps.
		sin, cos := math.Sincos(float64((x&3)*4+(y&3)) * (math.Pi / 16))
		hidden := 0.0
		for _, t := range softTaps {
			dx := int(math.Round(reach * (t[0]*cos - t[1]*sin)))
			dy := int(math.Round(reach * (t[0]*sin + t[1]*cos)))
			ax, ay, bx, by := x+dx, y+dy, x-dx, y-dy
			if min(ax, ay, bx, by) < 0 || max(ax, bx) >= w || max(ay, by) >= h {
				continue
			}
			rise := softRise((p.depthAt(ax, ay)-z)*unit) + softRise((p.depthAt(bx, by)-z)*unit)
			hidden += max(0, min(1, rise))
		}
		out[x] = float32(hidden / softPairs)
	}
}

// softRise limits how much one tap counts: not at all if it is so far in front
// that it is another thing.
func softRise(reaches float64) float64 { // Bare numbers: in parts of the reach
	switch {
	case reaches > 2:
		return 0
	case reaches > 1:
		return 2 - reaches
	case reaches < -1:
		return -1
	}
	return reaches
}

// smoothRow averages over 4×4 pixels of about the same depth.
func (p *painter) smoothRow(y, w, h int, shade, out []float32) {
	const sameDepth = 0.01 // part of the distance
	for x := range out {
		z := p.depthAt(x, y)
		if z == 0 {
			continue
		}
		limit := sameDepth * z
		if p.f.view.cam.Parallel {
			limit = sameDepth * p.f.view.cam.DistMM / (2 * p.f.view.rangeMM)
		}
		sum, n := float32(0), float32(0)
		for j := max(0, y-2); j < min(h, y+2); j++ {
			for i := max(0, x-2); i < min(w, x+2); i++ {
				if math.Abs(p.depthAt(i, j)-z) <= limit {
					sum, n = sum+shade[j*w+i], n+1
				}
			}
		}
		out[x] = sum / max(1, n)
	}
}

// darkenRow lays the shade over a row of samples.
func (p *painter) darkenRow(y, w int, shade []float32) {
	f := p.f
	pix := p.canvas.Pix[y*p.canvas.Stride:]
	dark := RGB{22, 18, 20}.packed()
	who := teller{f: f}
	row := shade[y/f.samples*w:]
	for x, v := range f.buf.vis[y*f.w : (y+1)*f.w] {
		share := uint32(256 * softShare * row[x/f.samples])
		if v == 0 || share == 0 {
			continue
		}
		if i := who.item(v); i < len(p.looks) && p.looks[i].scale != nil {
			continue
		}
		binary.LittleEndian.PutUint32(pix[4*x:], mixPacked(binary.LittleEndian.Uint32(pix[4*x:]), dark, share))
	}
}
