package render

import (
	"math"

	"aftbay/geom"
)

// stroke is how a line is drawn on the samples.
type stroke struct {
	colour  uint32
	widthPx float64 // samples
	share   float64 // 0..1, how solid
	hidden  bool    // parts in front hide it
	cut     bool    // what Options.Cut takes away is left out
}

// line3 draws a line between two vehicle points.
func (p *painter) line3(a, b geom.Vec, s stroke) {
	v := &p.f.view
	from, to, ok := v.clippedSegment(p.clipPoint(a), p.clipPoint(b), s.cut && p.o.Cut != nil)
	if !ok {
		return
	}
	x0, y0, z0 := v.pixel(from)
	x1, y1, z1 := v.pixel(to)
	p.line2(screenPoint{x0, y0, v.lifted(z0)}, screenPoint{x1, y1, v.lifted(z1)}, s)
}

// screenPoint is a place on the samples with its depth value.
type screenPoint struct{ xPx, yPx, nearness float64 }

// line2 walks along the longer direction and covers, at each step, the samples
// across it as far as the line's width reaches into them.
func (p *painter) line2(a, b screenPoint, s stroke) {
	steep := math.Abs(b.yPx-a.yPx) > math.Abs(b.xPx-a.xPx)
	w, h := float64(p.f.w), float64(p.f.h)
	if steep {
		a.xPx, a.yPx, b.xPx, b.yPx, w, h = a.yPx, a.xPx, b.yPx, b.xPx, h, w
	}
	if a.xPx > b.xPx {
		a, b = b, a
	}
	run := b.xPx - a.xPx
	if run < 1e-9 || b.xPx < 0 || a.xPx > w {
		return
	}
	slope, dz := (b.yPx-a.yPx)/run, (b.nearness-a.nearness)/run
	// A slanted line is wider across a row or column than across itself.
	half := s.widthPx / 2 * math.Sqrt(1+slope*slope)
	first, last := max(0, math.Round(a.xPx)), min(w, math.Round(b.xPx))
	for x := first; x < last; x++ {
		mid := x + 0.5 - a.xPx
		y := a.yPx + slope*mid
		z := float32(a.nearness + dz*mid)
		for j := max(0, math.Floor(y-half)); j <= min(h-1, math.Floor(y+half)); j++ {
			cover := min(j+1, y+half) - max(j, y-half)
			if steep {
				p.dot(int(j), int(x), z, cover, s)
			} else {
				p.dot(int(x), int(j), z, cover, s)
			}
		}
	}
}

// dot blends one sample.
func (p *painter) dot(x, y int, z float32, cover float64, s stroke) {
	if s.hidden && math.Float32bits(z) < uint32(p.f.buf.vis[y*p.f.w+x]>>32) {
		return
	}
	if cover <= 0 {
		return
	}
	i := p.canvas.PixOffset(x, y)
	blend(p.canvas.Pix[i:i+4:i+4], s.colour, uint32(256*min(1, cover)*s.share))
}

// blend mixes one image pixel towards colour by share/256.
func blend(pix []uint8, colour, share uint32) {
	keep := 256 - share
	pix[0] = uint8((uint32(pix[0])*keep + (colour&255)*share) >> 8)
	pix[1] = uint8((uint32(pix[1])*keep + (colour>>8&255)*share) >> 8)
	pix[2] = uint8((uint32(pix[2])*keep + (colour>>16&255)*share) >> 8)
}

// addEdges draws the feature edges.
func (p *painter) addEdges() {
	if p.o.NoEdges || p.err() != nil {
		return
	}
	s := stroke{colour: tonesOf(p.o.Dark).line.packed(), widthPx: 1.1 * float64(p.f.samples), hidden: true, cut: true}
	for i := range p.f.items {
		it := &p.f.items[i]
		if it.Hidden || it.Mesh == nil {
			continue
		}
		s.share = 0.62
		if it.Ghost {
			s.share = 0.22
		}
		for _, e := range it.Edges {
			a, b := it.Mesh.Verts[e[0]], it.Mesh.Verts[e[1]]
			p.line3(it.Pose.Point(a), it.Pose.Point(b), s)
		}
	}
}

// addPaths draws the overlay's polylines.
func (p *painter) addPaths() {
	if p.err() != nil {
		return
	}
	for _, path := range p.scene.Overlay.Paths {
		width := path.WidthPx
		if width <= 0 {
			width = 1.5
		}
		s := stroke{colour: path.Color.packed(), widthPx: width * float64(p.f.samples), share: 1, hidden: true}
		for i := 1; i < len(path.Points); i++ {
			p.line3(path.Points[i-1], path.Points[i], s)
		}
	}
}

// maxGridLines bounds the grid: beyond it the step is multiplied by ten.
const maxGridLines = 80

// addGround draws the grid under the scene; every tenth line is stronger.
func (p *painter) addGround() {
	g := p.o.Ground
	if g == nil || p.err() != nil || p.around.IsEmpty() {
		return
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
	tone := tonesOf(p.o.Dark).grid.packed()
	for k := range 2 {
		for i := from(k); i <= to(k); i++ {
			s := stroke{colour: tone, widthPx: float64(p.f.samples), share: 0.35, hidden: true}
			if math.Mod(i, 10) == 0 {
				s.share = 0.85
			}
			a, b := geom.Vec{2: g.ZMM}, geom.Vec{2: g.ZMM}
			a[k], b[k] = i*step, i*step
			a[1-k], b[1-k] = from(1-k)*step, to(1-k)*step
			p.line3(a, b, s)
		}
	}
}

// average folds the samples of each pixel into the image.
func (p *painter) average() {
	n := p.f.samples
	if n == 1 {
		return
	}
	out, fine, stride := p.f.Image, p.canvas.Pix, p.canvas.Stride
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
