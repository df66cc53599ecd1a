package render

import (
	"math"
	"strconv"

	"aftbay/geom"
)

// Outline returns the convex outline in which the plane of a cut meets a box,
// nil where it does not.
func (c Cut) Outline(b geom.Box) []geom.Vec {
	if b.IsEmpty() || !(c.Normal.Len() > 0) {
		return nil
	}
	u, v := c.axes()
	middle, n := b.Center(), c.Normal.Normalize()
	middle = middle.Sub(n.Mul(middle.Sub(c.Point).Dot(n)))
	reach := b.DiagonalMM()
	var poly []geom.Vec
	for _, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		poly = append(poly, middle.Add(u.Mul(s[0]*reach)).Add(v.Mul(s[1]*reach)))
	}
	for k := range 3 {
		poly = clipBy(poly, nil, func(p geom.Vec) float64 { return p[k] - b.Min[k] })
		poly = clipBy(poly, nil, func(p geom.Vec) float64 { return b.Max[k] - p[k] })
	}
	if len(poly) < 3 {
		return nil
	}
	return poly
}

// axes returns two unit directions along the plane, square to each other: a
// level one and one that rises, or Y and X where the plane is level.
func (c Cut) axes() (u, v geom.Vec) {
	n := c.Normal.Normalize()
	if math.Hypot(n[0], n[1]) < 1e-6 {
		return geom.Vec{0, 1, 0}, geom.Vec{1, 0, 0}
	}
	u = geom.Vec{-n[1], n[0], 0}.Normalize()
	v = n.Cross(u)
	if v[2] < 0 {
		v = v.Mul(-1)
	}
	return u, v
}

// ruler measures along one direction of a cut: vehicle coordinates where it runs
// along an axis, else millimetres from the point of the cut.
type ruler struct {
	dir    geom.Vec
	zeroMM float64
	name   string
}

func (c Cut) ruler(dir geom.Vec) ruler {
	for k := range dir {
		if math.Abs(dir[k]) > 1-1e-9 {
			r := ruler{name: string(rune('X'+k)) + " "}
			r.dir[k] = 1
			return r
		}
	}
	return ruler{dir: dir, zeroMM: c.Point.Dot(dir)}
}

func (r *ruler) atMM(p geom.Vec) (mm float64) { return p.Dot(r.dir) - r.zeroMM }

// gridText is a figure at the end of a line of a grid.
type gridText struct {
	at   place // on the samples
	text string
}

// Room of the grid in heights of the letters: a figure every so often, and that
// many finer lines between.
const (
	gridLetters = 5
	gridFiner   = 5
)

// stepMM returns the distance of the figures, 1, 2 or 5 times a power of ten and
// leastMM at least, and that of the finer lines.
func stepMM(leastMM float64) (figuresMM, finerMM float64) {
	decade := math.Pow(10, math.Floor(math.Log10(leastMM)))
	for _, f := range [3]float64{1, 2, 5} {
		if f*decade >= leastMM {
			return f * decade, f * decade / gridFiner
		}
	}
	return 10 * decade, 10 * decade / gridFiner
}

// gridLines returns the grids of the cuts that face the eye, as far as they are
// on the picture, and notes their figures.
func (p *painter) gridLines() []line {
	var out []line
	for k := range p.o.Cuts {
		c := &p.o.Cuts[k]
		if !c.Grid || !p.f.view.cuts[k].faces {
			continue
		}
		seen := p.onPicture(c.Outline(p.around), k)
		if len(seen) < 3 {
			continue
		}
		var middle geom.Vec
		for _, q := range seen {
			middle = middle.Add(q.Mul(1 / float64(len(seen))))
		}
		letters := p.o.TextPx
		if !(letters > 0) {
			letters = 14
		}
		leastMM := gridLetters * letters * p.f.view.cam.SizeMM(middle, float64(p.f.h)) * float64(p.f.samples)
		if !(leastMM > 0) || math.IsInf(leastMM, 1) {
			continue
		}
		u, v := c.axes()
		for i, dir := range [2]geom.Vec{u, v} {
			out = append(out, p.gridOf(seen, c.ruler(dir), leastMM, i == 0)...)
		}
	}
	return out
}

// onPicture returns the part of a convex outline that is on the picture and that
// the cuts leave, but for the one that it is of.
func (p *painter) onPicture(outline []geom.Vec, own int) []geom.Vec {
	v := &p.f.view
	var poly []geom.Vec
	for _, q := range outline {
		poly = append(poly, v.place(q))
	}
	acrossMM := func(q geom.Vec, halfPx float64) float64 {
		if v.cam.Parallel {
			return halfPx / v.scalePx * v.cam.DistMM
		}
		return halfPx / v.scalePx * q[2]
	}
	poly = clipBy(poly, nil, func(q geom.Vec) float64 { return q[2] - v.nearMM })
	for _, sign := range [2]float64{1, -1} {
		poly = clipBy(poly, nil, func(q geom.Vec) float64 { return acrossMM(q, v.midXPx) - sign*q[0] })
		poly = clipBy(poly, nil, func(q geom.Vec) float64 { return acrossMM(q, v.midYPx) - sign*q[1] })
	}
	for k := range v.cuts {
		if k != own {
			poly = clipBy(poly, nil, func(q geom.Vec) float64 { return -v.cuts[k].beyondMM(q) })
		}
	}
	for i, q := range poly {
		poly[i] = v.eye.Add(v.right.Mul(q[0])).Add(v.up.Mul(q[1])).Sub(v.back.Mul(q[2]))
	}
	return poly
}

// gridOf returns the lines of one direction within a convex outline. Level lines
// carry their figure at the left end, the others at the lower.
func (p *painter) gridOf(outline []geom.Vec, r ruler, leastMM float64, upright bool) []line {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range outline {
		lo, hi = min(lo, r.atMM(q)), max(hi, r.atMM(q))
	}
	figuresMM, finerMM := stepMM(leastMM)
	if !((hi-lo)/finerMM < 2000) {
		return nil
	}
	tone, width := tonesOf(p.o.Dark).text.packed(), p.lineScalePx()
	thin, strong := &stroke{tone, width, 0.14}, &stroke{tone, width, 0.4}
	var out []line
	for i := math.Ceil(lo / finerMM); i <= math.Floor(hi/finerMM); i++ {
		a, b, ok := across(outline, &r, i*finerMM)
		if !ok {
			continue
		}
		from, to, ok := p.onSamples(a, b, false)
		if !ok {
			continue
		}
		figure := math.Mod(i, gridFiner) == 0
		l := line{from, to, thin}
		if figure {
			l.style = strong
			end := from
			if upright && to.yPx > from.yPx || !upright && to.xPx < from.xPx {
				end = to
			}
			p.gridTexts = append(p.gridTexts, gridText{place{end.xPx, end.yPx}, r.name + strconv.FormatFloat(math.Round(i/gridFiner)*figuresMM+0, 'g', 6, 64)})
		}
		out = append(out, l)
	}
	return out
}

// across returns where a line of a grid enters and leaves a convex outline.
func across(outline []geom.Vec, r *ruler, mm float64) (a, b geom.Vec, ok bool) {
	found := 0
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		atP, atQ := r.atMM(p)-mm, r.atMM(q)-mm
		if (atP < 0) == (atQ < 0) {
			continue
		}
		at := between(p, q, atP/(atP-atQ))
		if found == 0 {
			a = at
		} else {
			b = at
		}
		found++
	}
	return a, b, found == 2
}

// gridFigures writes the figures of the grids where there is room.
func (p *painter) gridFigures(w *writer) {
	n := float64(p.f.samples)
	right, bottom := float64(w.img.Rect.Dx()), float64(w.img.Rect.Dy())
	for _, t := range p.gridTexts {
		halfX, halfY := w.plateSize(t.text)
		x := max(halfX, min(right-halfX, t.at.xPx/n))
		y := max(halfY, min(bottom-halfY, t.at.yPx/n))
		if w.isFree(area{x - halfX, y - halfY, x + halfX, y + halfY}) {
			w.plate(x, y, t.text, w.tone.text, w.tone.halo)
		}
	}
}
