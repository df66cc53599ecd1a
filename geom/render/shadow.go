package render

import (
	"math"

	"aftbay/geom"
)

// The ground shadow shows where the scene stands and what hangs low: what is
// near the ground darkens it, what is high hardly. A drawing aid of still
// pictures, no light calculation.
const (
	shadowCells  = 192 // of the map, along each side
	shadowRimMM  = 250 // around the scene
	shadowFadeMM = 350 // height at which a part darkens half as much
	shadowShare  = 0.42
	shadowBlur   = 4 // cells each way, three times
)

// shadowMap is how dark the ground is, over a grid of cells.
type shadowMap struct {
	leftMM, frontMM float64 // of the first cell: least X, least Y
	cellMM          float64
	dark            []float32 // 0..1
}

// addShadow darkens the ground of still pictures seen from above.
func (p *painter) addShadow() {
	g := p.o.Ground
	if !p.o.Soft || g == nil || p.around.IsEmpty() || p.f.view.back[2] <= 0 || p.f.view.eye[2] <= g.ZMM || p.err() != nil {
		return
	}
	m := p.shadowOf(g.ZMM)
	if m == nil {
		return
	}
	w := p.f.Image.Rect.Dx()
	p.each(p.f.Image.Rect.Dy(), func(y int) {
		for x := range w {
			p.shadePixel(x, y, m, g.ZMM)
		}
	})
}

// shadowOf looks at the scene from below and blurs what it sees; nil if the
// scene is too large to make sense, or when cancelled.
func (p *painter) shadowOf(groundMM float64) *shadowMap {
	size := p.around.Size()
	m := &shadowMap{leftMM: p.around.Min[0] - shadowRimMM, frontMM: p.around.Min[1] - shadowRimMM}
	m.cellMM = (max(size[0], size[1]) + 2*shadowRimMM) / shadowCells
	if !(m.cellMM < maxDistMM) {
		return nil
	}
	low := make([]uint64, shadowCells*shadowCells)
	for i := range p.f.items {
		if p.err() != nil {
			return nil
		}
		it := &p.f.items[i]
		if it.Hidden || it.Ghost || it.Mesh == nil {
			continue
		}
		m.cast(low, it, p.o.Cuts, groundMM)
	}
	m.dark = make([]float32, len(low))
	for i, v := range low {
		m.dark[i] = float32(nearnessOf(v))
	}
	spare := make([]float32, len(low))
	for range 3 {
		blurRows(m.dark, spare) // turns the map over, so twice is both ways
		blurRows(spare, m.dark)
	}
	return m
}

// cast fills the map with what the cuts leave of an item.
func (m *shadowMap) cast(low []uint64, it *Item, cuts []Cut, groundMM float64) {
	put := func(at geom.Vec) corner {
		if !geom.IsFinite(at) {
			return corner{}
		}
		height := max(0, at[2]-groundMM)
		return snap((at[0]-m.leftMM)/m.cellMM, (at[1]-m.frontMM)/m.cellMM, 1/(1+height/shadowFadeMM))
	}
	corners := make([]corner, len(it.Mesh.Verts))
	for k, v := range it.Mesh.Verts {
		at := it.Pose.Point(v)
		corners[k] = put(at)
		for i := range cuts {
			if cuts[i].beyondMM(at) > 0 {
				corners[k].out |= outCut << i
			}
		}
	}
	for _, t := range it.Mesh.Tris {
		a, b, c := corners[t[0]], corners[t[1]], corners[t[2]]
		switch some := a.out | b.out | c.out; {
		case some == 0:
			fill(low, shadowCells, shadowCells, 1, a, b, c)
		case a.out&b.out&c.out == 0:
			left := []geom.Vec{it.Pose.Point(it.Mesh.Verts[t[0]]), it.Pose.Point(it.Mesh.Verts[t[1]]), it.Pose.Point(it.Mesh.Verts[t[2]])}
			for i := range cuts {
				left = clipBy(left, nil, func(at geom.Vec) float64 { return -cuts[i].beyondMM(at) })
			}
			for k := 2; k < len(left); k++ {
				fill(low, shadowCells, shadowCells, 1, put(left[0]), put(left[k-1]), put(left[k]))
			}
		}
	}
}

// blurRows averages along rows and writes rows as columns.
func blurRows(from, to []float32) {
	const n, wide = shadowCells, 2*shadowBlur + 1
	for y := range n {
		row := from[y*n : (y+1)*n]
		var sum float32
		for x := -shadowBlur; x < n; x++ {
			if x+shadowBlur < n {
				sum += row[x+shadowBlur]
			}
			if x-shadowBlur-1 >= 0 {
				sum -= row[x-shadowBlur-1]
			}
			if x >= 0 {
				to[x*n+y] = max(0, sum/wide)
			}
		}
	}
}

// at returns how dark the ground is at a place, between cell centres.
func (m *shadowMap) at(xMM, yMM float64) (share float64) {
	fx, fy := (xMM-m.leftMM)/m.cellMM-0.5, (yMM-m.frontMM)/m.cellMM-0.5
	if !(fx >= 0 && fy >= 0 && fx < shadowCells-1 && fy < shadowCells-1) {
		return 0
	}
	x, y := int(fx), int(fy)
	u, v := fx-float64(x), fy-float64(y)
	k := y*shadowCells + x
	near := (1-u)*float64(m.dark[k]) + u*float64(m.dark[k+1])
	far := (1-u)*float64(m.dark[k+shadowCells]) + u*float64(m.dark[k+shadowCells+1])
	return (1-v)*near + v*far
}

// shadePixel darkens those samples of a pixel that show the background.
func (p *painter) shadePixel(x, y int, m *shadowMap, groundMM float64) {
	f, n := p.f, p.f.samples
	from, dir := f.view.ray((float64(x)+0.5)*float64(n), (float64(y)+0.5)*float64(n))
	along := (groundMM - from[2]) / dir[2]
	if !(along > 0) {
		return
	}
	share := uint32(256 * shadowShare * math.Min(1, m.at(from[0]+along*dir[0], from[1]+along*dir[1])))
	if share == 0 {
		return
	}
	dark := RGB{30, 26, 24}.packed()
	for j := y * n; j < (y+1)*n; j++ {
		for i := x * n; i < (x+1)*n; i++ {
			if f.buf.vis[j*f.w+i] == 0 {
				at := p.canvas.PixOffset(i, j)
				blend(p.canvas.Pix[at:at+4:at+4], dark, share)
			}
		}
	}
}
