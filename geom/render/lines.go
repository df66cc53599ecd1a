package render

import (
	"encoding/binary"
	"math"

	"aftbay/geom"
)

// stroke is how a line is drawn on the samples.
type stroke struct {
	colour  uint32
	widthPx float64 // samples
	share   float64 // 0..1, how solid
}

// line is a projected line, hidden by what is in front of it.
type line struct {
	a, b  screenPoint
	style *stroke
}

// screenPoint is a place on the samples with its depth value.
type screenPoint struct{ xPx, yPx, nearness float64 }

// onSamples projects a line; ok is false when nothing of it can be seen.
func (p *painter) onSamples(a, b geom.Vec, cut bool) (from, to screenPoint, ok bool) {
	v := &p.f.view
	va, vb, ok := v.clippedSegment(v.place(a), v.place(b), cut)
	if !ok || !geom.IsFinite(va) || !geom.IsFinite(vb) {
		return from, to, false
	}
	from.xPx, from.yPx, from.nearness = v.pixel(va)
	to.xPx, to.yPx, to.nearness = v.pixel(vb)
	from.nearness, to.nearness = v.lifted(from.nearness), v.lifted(to.nearness)
	return from, to, true
}

// line2 draws a line on the rows [y0, y1): it walks along the longer direction
// and covers, at each step, the samples across it as far as the line's width
// reaches into them. Rows are drawn alike whatever strip they are drawn in.
//
// Long on purpose: a frame takes a million of its inner steps.
func (p *painter) line2(l *line, y0, y1 int) {
	a, b := l.a, l.b
	steep := math.Abs(b.yPx-a.yPx) > math.Abs(b.xPx-a.xPx)
	// Along and across: limits and steps in memory.
	loAlong, hiAlong, loAcross, hiAcross := 0.0, float64(p.f.w), float64(y0), float64(y1)
	stepAlong, stepAcross := 1, p.f.w
	if steep {
		a.xPx, a.yPx, b.xPx, b.yPx = a.yPx, a.xPx, b.yPx, b.xPx
		loAlong, hiAlong, loAcross, hiAcross = loAcross, hiAcross, loAlong, hiAlong
		stepAlong, stepAcross = stepAcross, stepAlong
	}
	if a.xPx > b.xPx {
		a, b = b, a
	}
	run := b.xPx - a.xPx
	if !(run >= 1e-9) || b.xPx < loAlong || a.xPx > hiAlong {
		return
	}
	slope, dz := (b.yPx-a.yPx)/run, (b.nearness-a.nearness)/run
	// A slanted line is wider across a row or column than across itself.
	half := l.style.widthPx / 2 * math.Sqrt(1+slope*slope)
	if min(a.yPx, b.yPx)-half > hiAcross || max(a.yPx, b.yPx)+half < loAcross {
		return
	}
	first, last := int(max(loAlong, math.Round(a.xPx))), int(min(hiAlong, math.Round(b.xPx)))
	vis, pix, colour, full := p.f.buf.vis, p.canvas.Pix, l.style.colour, 256*l.style.share
	for x := first; x < last; x++ {
		mid := float64(x) + 0.5 - a.xPx
		y := a.yPx + slope*mid
		from, to := y-half, y+half
		if from < loAcross {
			from = loAcross
		}
		if to > hiAcross {
			to = hiAcross
		}
		if !(from < to) {
			continue
		}
		z := uint64(math.Float32bits(float32(a.nearness+dz*mid)))<<32 | 0xffffffff
		j := int(from)
		for i := x*stepAlong + j*stepAcross; float64(j) < to; i += stepAcross {
			top, bottom := float64(j), float64(j+1)
			j++
			if z < vis[i] {
				continue
			}
			if top < from {
				top = from
			}
			if bottom > to {
				bottom = to
			}
			blend(pix[4*i:4*i+4:4*i+4], colour, uint32(full*(bottom-top)))
		}
	}
}

// blend mixes one image pixel towards colour by share/256.
func blend(pix []uint8, colour, share uint32) {
	binary.LittleEndian.PutUint32(pix, mixPacked(binary.LittleEndian.Uint32(pix), colour, share))
}

// addLines draws all that is hidden by parts: ground, feature edges and paths.
// First all is projected, then drawn strip by strip in the same order.
func (p *painter) addLines() {
	items := p.f.items
	of := make([][]line, len(items)+3)
	p.each(len(of), func(i int) {
		switch {
		case i == 0:
			of[i] = p.groundLines()
		case i <= len(items):
			of[i] = p.edgeLines(&items[i-1])
		case i == len(items)+1:
			of[i] = p.gridLines()
		default:
			of[i] = p.pathLines()
		}
	})
	const strips = 8 // enough to share out, few enough to skip lines cheaply
	p.each(strips, func(k int) {
		for _, lines := range of {
			for i := range lines {
				p.line2(&lines[i], p.f.h*k/strips, p.f.h*(k+1)/strips)
			}
		}
	})
}

// lineScalePx returns the samples that a pixel's width of a line takes.
func (p *painter) lineScalePx() (samplesPx float64) {
	if p.o.LineShare > 0 {
		return p.o.LineShare * float64(p.f.samples)
	}
	return float64(p.f.samples)
}

// edgeLines projects the edges of an item.
func (p *painter) edgeLines(it *Item) []line {
	if p.o.NoEdges || it.Hidden || it.Mesh == nil {
		return nil
	}
	s := &stroke{colour: tonesOf(p.o.Dark).line.packed(), widthPx: 1.1 * p.lineScalePx(), share: 0.62}
	if it.Ghost {
		s.share = 0.22
	}
	out := make([]line, 0, len(it.Edges))
	for _, e := range it.Edges {
		a, b := it.Pose.Point(it.Mesh.Verts[e[0]]), it.Pose.Point(it.Mesh.Verts[e[1]])
		if from, to, ok := p.onSamples(a, b, true); ok {
			out = append(out, line{from, to, s})
		}
	}
	return out
}

// pathLines projects the overlay's polylines.
func (p *painter) pathLines() []line {
	var out []line
	for _, path := range p.scene.Overlay.Paths {
		s := &stroke{colour: path.Color.packed(), widthPx: 1.5 * p.lineScalePx(), share: 1}
		if path.WidthPx > 0 {
			s.widthPx = path.WidthPx * p.lineScalePx()
		}
		for i := 1; i < len(path.Points); i++ {
			if from, to, ok := p.onSamples(path.Points[i-1], path.Points[i], false); ok {
				out = append(out, line{from, to, s})
			}
		}
	}
	return out
}

// maxGridLines bounds the grid: beyond it the step is multiplied by ten.
const maxGridLines = 80

// groundLines returns the grid under the scene; every tenth line is stronger.
func (p *painter) groundLines() []line {
	g := p.o.Ground
	if g == nil || p.around.IsEmpty() {
		return nil
	}
	step := g.StepMM
	if !(step > 0) {
		step = 100
	}
	border := 0.15 * p.around.DiagonalMM()
	lo, hi := p.around.Min, p.around.Max
	for max(hi[0]-lo[0], hi[1]-lo[1])+2*border > maxGridLines*step {
		step *= 10
	}
	from := func(k int) float64 { return math.Floor((lo[k] - border) / step) }
	to := func(k int) float64 { return math.Ceil((hi[k] + border) / step) }
	tone, width := tonesOf(p.o.Dark).grid.packed(), p.lineScalePx()
	thin, strong := &stroke{tone, width, 0.35}, &stroke{tone, width, 0.85}
	var out []line
	for k := range 2 {
		for i := from(k); i <= to(k); i++ {
			style := thin
			if math.Mod(i, 10) == 0 {
				style = strong
			}
			a, b := geom.Vec{2: g.ZMM}, geom.Vec{2: g.ZMM}
			a[k], b[k] = i*step, i*step
			a[1-k], b[1-k] = from(1-k)*step, to(1-k)*step
			if at, end, ok := p.onSamples(a, b, false); ok {
				out = append(out, line{at, end, style})
			}
		}
	}
	return out
}

// average folds the samples of each pixel into the image.
func (p *painter) average() {
	n := p.f.samples
	if n == 1 {
		return
	}
	out, fine, stride := p.f.Image, p.canvas.Pix, p.canvas.Stride
	if n == 2 {
		p.each(out.Rect.Dy(), func(y int) {
			averageFour(out.Pix[y*out.Stride:][:4*out.Rect.Dx()], fine[2*y*stride:], fine[(2*y+1)*stride:])
		})
		return
	}
	p.each(out.Rect.Dy(), func(y int) {
		for x := range out.Rect.Dx() {
			var sum [3]uint32
			for j := range n {
				for i := range n {
					at := fine[(y*n+j)*stride+4*(x*n+i):]
					sum[0] += uint32(at[0])
					sum[1] += uint32(at[1])
					sum[2] += uint32(at[2])
				}
			}
			o := out.Pix[y*out.Stride+4*x:]
			half := uint32(n * n / 2)
			for k := range 3 {
				o[k] = uint8((sum[k] + half) / uint32(n*n))
			}
			o[3] = 255
		}
	})
}

// averageFour folds two rows of samples, two and two, into a row of pixels: the
// same as average, two channels at once.
func averageFour(out, upper, lower []uint8) {
	const even = 0x00ff00ff00ff00ff // of two pixels, red and blue
	upper, lower = upper[:2*len(out)], lower[:2*len(out)]
	for len(out) >= 4 && len(upper) >= 8 && len(lower) >= 8 {
		u, l := binary.LittleEndian.Uint64(upper), binary.LittleEndian.Uint64(lower)
		rb := u&even + l&even
		ga := u>>8&even + l>>8&even
		rb4, ga4 := uint32(rb)+uint32(rb>>32)+0x00020002, uint32(ga)+uint32(ga>>32)+0x00020002
		binary.LittleEndian.PutUint32(out, rb4>>2&0x00ff00ff|ga4>>2&0x00ff00ff<<8|0xff000000)
		out, upper, lower = out[4:], upper[8:], lower[8:]
	}
}
