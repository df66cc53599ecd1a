package render

import (
	"context"
	"image"
	"sync/atomic"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// maxSidePx bounds a picture's sides, samples included: 16,384 squared is 2 GB.
const maxSidePx = 16384

// Draw returns the picture of a scene, wPx by hPx pixels. The same input gives
// the same bytes for any number of workers. It fails when ctx is cancelled, and
// on sizes that make no picture.
func Draw(ctx context.Context, s Scene, c Camera, o Options, wPx, hPx int) (*Frame, error) {
	samples := max(1, min(4, o.Supersample))
	if wPx < 1 || hPx < 1 || max(wPx, hPx)*samples > maxSidePx {
		return nil, say.Errorf("picture of %d by %d pixels: sides must be 1 to %d", wPx, hPx, maxSidePx/samples)
	}
	if len(o.Cuts) > MaxCuts {
		return nil, say.Errorf("picture with %d cuts: %d at most", len(o.Cuts), MaxCuts)
	}
	p := newPainter(ctx, s, c, o, wPx, hPx, samples)
	p.project()
	p.rasterise()
	p.addCaps()
	if err := p.err(); err != nil {
		return nil, err
	}
	p.resolve()
	p.addShadow()
	p.soften()
	p.addLines()
	p.average()
	p.addOverlay()
	if err := p.err(); err != nil {
		return nil, err
	}
	return p.f, nil
}

// painter holds one Draw at work.
type painter struct {
	ctx       context.Context
	scene     *Scene
	o         Options
	f         *Frame
	around    geom.Box
	workers   int
	corner0   []int  // corner0[i]: first projected corner of item i
	looks     []look // per item
	gridTexts []gridText
	canvas    *image.RGBA // what is drawn on until samples are averaged
	failed    error
}

func newPainter(ctx context.Context, s Scene, c Camera, o Options, wPx, hPx, samples int) *painter {
	p := &painter{ctx: ctx, scene: &s, o: o, workers: o.Workers}
	if p.workers <= 0 {
		p.workers = min(4, geom.Processors())
	}
	f := &Frame{items: s.Items, cuts: o.Cuts, w: wPx * samples, h: hPx * samples, samples: samples}
	if o.Reuse != nil {
		f.buf, f.Image = o.Reuse.buf, o.Reuse.Image
		o.Reuse.buf, o.Reuse.Image, o.Reuse.w, o.Reuse.h = buffers{}, nil, 0, 0
	}
	if f.Image == nil || f.Image.Rect != image.Rect(0, 0, wPx, hPx) {
		f.Image = image.NewRGBA(image.Rect(0, 0, wPx, hPx))
	}
	p.canvas = f.Image
	if samples > 1 {
		f.buf.fine = grown(f.buf.fine, 4*f.w*f.h)
		p.canvas = &image.RGBA{Pix: f.buf.fine, Stride: 4 * f.w, Rect: image.Rect(0, 0, f.w, f.h)}
	}
	p.f = f
	p.measure(o.Reuse)
	f.view = newView(c, p.around, f.w, f.h)
	f.view.setCuts(o.Cuts)
	p.count()
	n := f.w * f.h
	f.buf.vis = cleared(f.buf.vis, n)
	if f.hasGhost {
		f.buf.ghost = cleared(f.buf.ghost, n)
	}
	if f.hasPicked {
		f.buf.picked = cleared(f.buf.picked, n)
	}
	return p
}

// measure fills the boxes of the meshes, those that the frame before knows from
// there, and the box around all that is shown.
func (p *painter) measure(before *Frame) {
	f := p.f
	f.boxes, p.around = map[*mesh.Mesh]geom.Box{}, geom.EmptyBox()
	for i := range f.items {
		it := &f.items[i]
		if it.Hidden || it.Mesh == nil || len(it.Mesh.Verts) == 0 {
			continue
		}
		box, known := f.boxes[it.Mesh]
		if !known && before != nil {
			box, known = before.boxes[it.Mesh]
		}
		if !known {
			box = it.Mesh.Box()
		}
		f.boxes[it.Mesh] = box
		for _, c := range box.Corners() {
			p.around = p.around.Grow(it.Pose.Point(c))
		}
	}
}

// count gives every item its range of corners and triangle ids.
func (p *painter) count() {
	f, items := p.f, p.f.items
	f.first, p.corner0 = make([]int, len(items)+1), make([]int, len(items)+1)
	p.looks = make([]look, len(items))
	for i := range items {
		it := &items[i]
		f.first[i+1], p.corner0[i+1] = f.first[i], p.corner0[i]
		if it.Hidden || it.Mesh == nil {
			continue
		}
		f.first[i+1] += len(it.Mesh.Tris)
		p.corner0[i+1] += len(it.Mesh.Verts)
		f.hasGhost = f.hasGhost || it.Ghost
		f.hasPicked = f.hasPicked || it.Selected
		p.looks[i] = newLook(it, &f.view)
		if it.Field != nil {
			p.looks[i].scale = p.o.Field
		}
	}
	f.buf.corner = grown(f.buf.corner, p.corner0[len(items)])
	f.buf.shade = cleared(f.buf.shade, f.first[len(items)])
}

// each runs do for i in [0, n); after a failure it does nothing.
func (p *painter) each(n int, do func(i int)) {
	if p.failed != nil {
		return
	}
	p.failed = geom.Each(p.ctx, p.workers, n, nil, func(i int) error { do(i); return nil })
}

func (p *painter) err() error {
	if p.failed == nil {
		p.failed = p.ctx.Err()
	}
	return p.failed
}

// bands runs do over the rows [y0, y1) of the samples, split into strips.
func (p *painter) bands(do func(y0, y1 int)) {
	const rows = 32
	p.each((p.f.h+rows-1)/rows, func(i int) { do(i*rows, min(p.f.h, (i+1)*rows)) })
}

// chunk is a run of corners or triangles of one item.
type chunk struct{ item, from, to int }

// chunks cuts the ranges [0, length(i)) of all shown items into runs.
func (p *painter) chunks(length func(it *Item) int) []chunk {
	const run = 4096 // long enough to drown the cost of handing out
	var out []chunk
	for i := range p.f.items {
		it := &p.f.items[i]
		if it.Hidden || it.Mesh == nil {
			continue
		}
		for from, n := 0, length(it); from < n; from += run {
			out = append(out, chunk{i, from, min(n, from+run)})
		}
	}
	return out
}

// project fills the projected corners of all items.
func (p *painter) project() {
	jobs := p.chunks(func(it *Item) int { return len(it.Mesh.Verts) })
	p.each(len(jobs), func(i int) { p.projectRun(jobs[i]) })
}

// projectRun projects a run of corners.
//
// Long on purpose: it runs once a corner, and a call for each step would double
// its time.
func (p *painter) projectRun(c chunk) {
	it, v := &p.f.items[c.item], &p.f.view
	toView := v.pose().After(it.Pose)
	r0, r1, r2 := toView.R.Col(0).Elem()
	r3, r4, r5 := toView.R.Col(1).Elem()
	r6, r7, r8 := toView.R.Col(2).Elem()
	t0, t1, t2 := toView.T.Elem()
	nearMM, scalePx, midXPx, midYPx, parallel := v.nearMM, v.scalePx, v.midXPx, v.midYPx, v.cam.Parallel
	flatPx, depthMM := v.scalePx/v.cam.DistMM, 2*v.rangeMM // see view.pixel
	cuts, verts := v.cuts, it.Mesh.Verts[c.from:c.to]
	out := p.f.buf.corner[p.corner0[c.item]+c.from:][:len(verts)]
	for i := range verts {
		q := &verts[i]
		q0, q1, q2 := q[0], q[1], q[2]
		x := r0*q0 + r3*q1 + r6*q2 + t0
		y := r1*q0 + r4*q1 + r7*q2 + t1
		z := r2*q0 + r5*q1 + r8*q2 + t2
		var reason uint32
		for k := range cuts {
			if cut := &cuts[k]; x*cut.normal[0]+y*cut.normal[1]+z*cut.normal[2]+cut.offsetMM > 0 {
				reason |= outCut << k
			}
		}
		if !(z >= nearMM) { // so that NaN counts as not to be drawn
			out[i] = corner{out: reason | outNear}
			continue
		}
		var k, nearness float64
		if parallel {
			k, nearness = flatPx, 1.75-(z-nearMM)/depthMM
		} else {
			nearness = 1 / z
			k = scalePx * nearness
		}
		xPx, yPx := midXPx+x*k, midYPx-y*k
		if !(xPx <= guardPx && xPx >= -guardPx && yPx <= guardPx && yPx >= -guardPx) {
			out[i] = corner{out: reason | outGuard}
			continue
		}
		out[i] = corner{x: nearestSub(xPx), y: nearestSub(yPx), z: float32(nearness), out: reason}
	}
}

// rasterise fills the visibility buffers: workers take runs of triangles as
// they come, each into its own buffer; the greatest value wins in the end.
func (p *painter) rasterise() {
	f := p.f
	jobs := p.chunks(func(it *Item) int { return len(it.Mesh.Tris) })
	workers := min(p.workers, len(jobs))
	for len(f.buf.own) < workers-1 {
		f.buf.own = append(f.buf.own, nil)
	}
	var next atomic.Int64
	p.each(workers, func(k int) {
		vis := f.buf.vis
		if k > 0 {
			f.buf.own[k-1] = cleared(f.buf.own[k-1], f.w*f.h)
			vis = f.buf.own[k-1]
		}
		for {
			i := int(next.Add(1)) - 1
			if i >= len(jobs) {
				return
			}
			if it := &f.items[jobs[i].item]; !it.Ghost {
				p.drawRun(jobs[i], vis)
			}
		}
	})
	p.bands(func(y0, y1 int) {
		for k := range max(0, workers-1) {
			keepGreater(f.buf.vis[y0*f.w:y1*f.w], f.buf.own[k][y0*f.w:y1*f.w])
		}
	})
	p.drawAside(jobs)
}

// drawAside draws see-through and selected items into buffers of their own.
func (p *painter) drawAside(jobs []chunk) {
	p.each(2, func(k int) {
		for _, j := range jobs {
			it := &p.f.items[j.item]
			if k == 0 && it.Ghost {
				p.drawRun(j, p.f.buf.ghost)
			}
			if k == 1 && it.Selected {
				p.drawRun(j, p.f.buf.picked)
			}
		}
	})
}

func keepGreater(dst, src []uint64) {
	src = src[:len(dst)]
	for i, v := range src {
		if v > dst[i] {
			dst[i] = v
		}
	}
}
