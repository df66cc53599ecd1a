package render

import (
	"encoding/binary"
	"math"
	"sync/atomic"
)

// tones are the colours of everything that is not a part.
type tones struct {
	top, bottom RGB // background
	line        RGB // edges and outlines
	grid        RGB
	text, halo  RGB
}

// tonesOf returns our own warm greys, light or dark. Chosen so that text on the
// background keeps a contrast of at least 7:1.
func tonesOf(dark bool) tones {
	if dark {
		return tones{
			top: RGB{42, 49, 52}, bottom: RGB{22, 27, 30}, line: RGB{10, 13, 15},
			grid: RGB{102, 110, 112}, text: RGB{236, 239, 238}, halo: RGB{24, 30, 33},
		}
	}
	return tones{
		top: RGB{248, 246, 242}, bottom: RGB{222, 217, 209}, line: RGB{52, 46, 40},
		grid: RGB{158, 150, 138}, text: RGB{40, 35, 30}, halo: RGB{250, 248, 245},
	}
}

// resolve turns the buffers into colours.
func (p *painter) resolve() {
	caps := p.capColours()
	p.bands(func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			p.resolveRow(y, caps)
			if p.f.hasGhost {
				p.ghostRow(y)
			}
			if p.f.hasPicked {
				p.pickedRow(y)
			}
		}
	})
}

// groundTone returns the background of a row.
func (p *painter) groundTone(y int) RGB {
	t := tonesOf(p.o.Dark)
	return mix(t.top, t.bottom, float64(y)/float64(max(1, p.f.h-1)))
}

// outlineShare is how far an outline is blended towards the line tone, of 256.
const outlineShare = 190

// resolveRow colours one row: surface, cap or background, then the outlines.
func (p *painter) resolveRow(y int, caps []capColour) {
	f := p.f
	total, w := uint32(f.first[len(f.items)]), f.w
	vis := f.buf.vis[y*w : (y+1)*w]
	pix := p.canvas.Pix[y*p.canvas.Stride:][:4*len(vis)]
	ground, who, shade := p.groundTone(y).packed(), teller{f: f}, f.buf.shade
	for x, v := range vis {
		colour := ground
		switch id := uint32(v); {
		case id == 0:
		case id <= total:
			if colour = atomic.LoadUint32(&shade[id-1]); colour == 0 {
				colour = p.tone(int(id)-1, &who, v)
			}
		default:
			colour = caps[int(id-1-total)%len(caps)].at(x, y, f.buf.twice[y*w+x], f.samples)
		}
		binary.LittleEndian.PutUint32(pix[4*x:4*x+4], colour)
	}
	if !p.o.NoOutlines {
		p.outlineRow(y, vis, pix, &who)
	}
}

// outlineRow blends the outline in where the sample to the right or below shows
// something else. Nearly all samples are settled by whole numbers: their
// neighbours are of the same item, and as good as equally far away.
func (p *painter) outlineRow(y int, vis []uint64, pix []uint8, who *teller) {
	f, w := p.f, p.f.w
	above, below := vis, vis
	if y == 0 {
		above = make([]uint64, w)
	} else {
		above = f.buf.vis[(y-1)*w : y*w]
	}
	if y+1 < f.h {
		below = f.buf.vis[(y+1)*w : (y+2)*w]
	}
	above, below = above[:len(vis)], below[:len(vis)]
	line, flat := tonesOf(p.o.Dark).line.packed(), p.flatBits()
	last, from, span := uint64(0), uint32(0), uint32(1) // the ids of the item at hand
	for x, v := range vis {
		next, under := v, below[x]
		if x+1 < len(vis) {
			next = vis[x+1]
		}
		if uint32(v)-from >= span {
			from, span = who.ids(v)
		}
		z := uint32(v>>32) - flat
		if uint32(next)-from >= span || uint32(under)-from >= span ||
			uint32(next>>32)-z > 2*flat || uint32(under>>32)-z > 2*flat {
			if uint32(v) != uint32(next) && p.parts(who, last, v, next) || uint32(v) != uint32(under) && p.parts(who, above[x], v, under) {
				blend(pix[4*x:4*x+4], line, outlineShare)
			}
		}
		last = v
	}
}

// flatBits returns by how much the bits of two depth values may differ with the
// jump between them surely below what parts asks for. A last place of a float32
// is at most 2⁻²³ of the value, and 2⁻²³ where values are below 2, as they are
// when parallel.
func (p *painter) flatBits() uint32 {
	share := stepShare
	if view := &p.f.view; view.cam.Parallel {
		share = view.parallelStep()
	}
	return uint32(0.9 * share * (1 << 23))
}

// tone returns the colour of triangle id, which a sample shows: computed when it
// is first asked for, since most triangles are never seen. Two workers may compute
// the same one at once, to the same bits.
func (p *painter) tone(id int, who *teller, v uint64) uint32 {
	at := &p.f.buf.shade[id]
	if known := atomic.LoadUint32(at); known != 0 {
		return known
	}
	i := who.item(v)
	colour := p.looks[i].colour(&p.f.items[i], id-p.f.first[i])
	atomic.StoreUint32(at, colour)
	return colour
}

// stepShare is the jump in depth, relative to the distance, that shows as an
// outline within one item: 0.8 %, 30 mm at 4 m.
const stepShare = 0.008

// parts reports whether two neighbouring samples show different things: other
// items, or a jump in depth. On a plane seen edge-on the step from prev to v is
// the same as the one to next: that is no jump. Where prev is another item, the
// outline is there already.
func (p *painter) parts(who *teller, prev, v, next uint64) bool {
	own := who.item(v)
	if own != who.item(next) {
		return true
	}
	z1, z2 := nearnessOf(v), nearnessOf(next)
	limit := stepShare * max(z1, z2)
	if view := &p.f.view; view.cam.Parallel {
		limit = view.parallelStep()
	}
	if !(math.Abs(z2-z1) > limit) { // nearly always
		return false
	}
	return own == who.item(prev) && math.Abs(z2-2*z1+nearnessOf(prev)) > limit
}

// parallelStep is stepShare of the distance as a depth value of a parallel view.
func (v *view) parallelStep() (share float64) { return stepShare * v.cam.DistMM / (2 * v.rangeMM) }

// nearnessOf returns the depth value of a sample.
func nearnessOf(v uint64) (nearness float64) {
	return float64(math.Float32frombits(uint32(v >> 32)))
}

// teller tells items by sample and remembers the last answers.
type teller struct {
	f      *Frame
	lo, hi [2]int
	of     [2]int
	last   int
}

// item returns the item of a sample, -1 for none; caps count apart.
func (t *teller) item(v uint64) int {
	id := int(uint32(v)) - 1
	if id < 0 {
		return -1
	}
	for k := range t.of {
		if id >= t.lo[k] && id < t.hi[k] {
			return t.of[k]
		}
	}
	f, n := t.f, len(t.f.items)
	t.last ^= 1
	k := t.last
	if total := f.first[n]; id >= total {
		t.lo[k], t.hi[k], t.of[k] = id, id+1, n+id-total
		return t.of[k]
	}
	i := f.itemOf(id)
	t.lo[k], t.hi[k], t.of[k] = f.first[i], f.first[i+1], i
	return i
}

// ids returns the run of ids (triangle + 1, as samples hold them) that belong to
// the item of a sample: from that on, so many.
func (t *teller) ids(v uint64) (from, span uint32) {
	if uint32(v) == 0 {
		return 0, 1
	}
	t.item(v)
	id := int(uint32(v)) - 1
	for k := range t.of {
		if id >= t.lo[k] && id < t.hi[k] {
			return uint32(t.lo[k]) + 1, uint32(t.hi[k] - t.lo[k])
		}
	}
	return uint32(v), 1
}

// ghostRow blends see-through surfaces over what is behind them.
func (p *painter) ghostRow(y int) {
	f := p.f
	pix := p.canvas.Pix[y*p.canvas.Stride:]
	row := f.buf.ghost[y*f.w : (y+1)*f.w]
	line := tonesOf(p.o.Dark).line.packed()
	who := teller{f: f}
	for x, v := range row {
		next := row[min(x+1, f.w-1)]
		edge := uint32(v) != uint32(next) && who.item(v) != who.item(next)
		if v == 0 && !edge {
			continue
		}
		colour := binary.LittleEndian.Uint32(pix[4*x:])
		if v>>32 > f.buf.vis[y*f.w+x]>>32 {
			id := int(uint32(v)) - 1
			i := who.item(v)
			share := p.looks[i].edgeOnShare(&f.items[i], id-f.first[i])
			colour = mixPacked(colour, p.tone(id, &who, v), share)
		}
		if edge && max(v, next)>>32 > f.buf.vis[y*f.w+x]>>32 {
			colour = mixPacked(colour, line, 110)
		}
		binary.LittleEndian.PutUint32(pix[4*x:], colour)
	}
}

// pickedRow outlines selected items, two pixels wide; fainter where they are
// hidden by something else.
func (p *painter) pickedRow(y int) {
	f := p.f
	reach := f.samples
	pix := p.canvas.Pix[y*p.canvas.Stride:]
	accent := AccentColor.packed()
	if p.o.Dark {
		accent = mix(AccentColor, RGB{255, 255, 255}, 0.35).packed()
	}
	up, down := max(0, y-reach)*f.w, min(f.h-1, y+reach)*f.w
	picked, who := f.buf.picked, teller{f: f}
	for x := range f.w {
		k := y*f.w + x
		left, right := y*f.w+max(0, x-reach), y*f.w+min(f.w-1, x+reach)
		own := picked[k] != 0
		if (picked[left] != 0) == own && (picked[right] != 0) == own && (picked[up+x] != 0) == own && (picked[down+x] != 0) == own {
			continue
		}
		share := uint32(110)
		for _, n := range [5]int{k, left, right, up + x, down + x} {
			if i := who.item(f.buf.vis[n]); i >= 0 && f.items[i%len(f.items)].Selected {
				share = 256
			}
		}
		colour := mixPacked(binary.LittleEndian.Uint32(pix[4*x:]), accent, share)
		binary.LittleEndian.PutUint32(pix[4*x:], colour)
	}
}

// capColour is the pair of tones a cap is hatched with.
type capColour struct {
	plain, stripe, cross uint32
	rising               bool // the way the stripes lean
}

func (p *painter) capColours() []capColour {
	out := make([]capColour, len(p.f.items))
	for i := range out {
		c := mix(p.f.items[i].Color, RGB{255, 255, 255}, 0.35)
		if p.o.Dark {
			c = mix(p.f.items[i].Color, RGB{0, 0, 0}, 0.15)
		}
		out[i] = capColour{plain: c.packed(), stripe: mix(c, RGB{30, 26, 22}, 0.55).packed(), cross: OverlapColor.packed(), rising: i%2 == 0}
	}
	return out
}

// hatchPx is the distance of two stripes along a row.
const hatchPx = 9

// at returns the cap's colour at a sample: stripes at 45°, leaning the other way
// on every second item; crossed on purple where two solids overlap.
func (c *capColour) at(x, y int, twice bool, samples int) uint32 {
	period := hatchPx * samples
	rise, fall := (x+y)%period < samples, (x-y+period*(1+y/period))%period < samples
	switch {
	case twice && (rise || fall):
		return c.stripe
	case twice:
		return c.cross
	case c.rising && rise, !c.rising && fall:
		return c.stripe
	}
	return c.plain
}
