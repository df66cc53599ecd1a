package render

import (
	"image"
	"math"
	"sort"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// Frame is a drawn picture and what is needed to ask it questions.
type Frame struct {
	Image *image.RGBA

	items      []Item
	first      []int // first[i]: id of triangle 0 of item i; len = items + 1
	cuts       []Cut
	view       view
	boxes      map[*mesh.Mesh]geom.Box // of the meshes shown: a scan of all corners each
	w, h       int                     // of the samples: picture size times samples
	samples    int
	buf        buffers
	hasGhost   bool
	hasPicked  bool // a selected item has been drawn into buf.picked
	capOverlap bool
}

// buffers is the memory of a frame that a later one may take over.
type buffers struct {
	vis    []uint64   // per sample: depth bits above, id + 1 below; 0: nothing
	own    [][]uint64 // same, of the workers after the first
	ghost  []uint64   // same, of see-through items
	picked []uint64   // same, of selected items alone
	corner []corner   // projected corners of all items
	shade  []uint32   // shade[id]: colour of a triangle, as image bytes; 0: not asked for yet
	wind   []int8     // per sample: entered less left, for caps
	twice  []bool     // per sample: two caps meet, so two solids overlap
	fine   []uint8    // image bytes before samples are averaged
}

// Pick is what lies under a pixel.
type Pick struct {
	Item     int
	Triangle int      // -1 on the cap of a cut
	Point    geom.Vec // vehicle frame
}

// Pick returns what is shown at a pixel; see-through items count only where
// nothing solid is. ok is false on the background and outside the picture.
func (f *Frame) Pick(xPx, yPx int) (p Pick, ok bool) {
	x, y := xPx*f.samples+f.samples/2, yPx*f.samples+f.samples/2
	if xPx < 0 || yPx < 0 || x >= f.w || y >= f.h {
		return Pick{}, false
	}
	v := f.buf.vis[y*f.w+x]
	if v == 0 && f.hasGhost {
		v = f.buf.ghost[y*f.w+x]
	}
	if v == 0 {
		return Pick{}, false
	}
	id := int(uint32(v)) - 1
	total := f.first[len(f.items)]
	from, dir := f.view.ray(float64(x)+0.5, float64(y)+0.5)
	if id >= total { // a cap: on the plane of the cut
		cut := &f.cuts[(id-total)/len(f.items)]
		p = Pick{Item: (id - total) % len(f.items), Triangle: -1}
		p.Point = meet(from, dir, cut.Point, cut.Normal, f.fallbackMM(v, dir))
		return p, true
	}
	p.Item = f.itemOf(id)
	p.Triangle = id - f.first[p.Item]
	it := &f.items[p.Item]
	a, b, c := it.Mesh.Corners(p.Triangle)
	normal := it.Pose.Dir(b.Sub(a).Cross(c.Sub(a)))
	p.Point = meet(from, dir, it.Pose.Point(a), normal, f.fallbackMM(v, dir))
	return p, true
}

// itemOf returns the item that triangle id belongs to.
func (f *Frame) itemOf(id int) int {
	return sort.Search(len(f.items), func(i int) bool { return f.first[i+1] > id })
}

// fallbackMM returns the length along dir that the stored depth stands for.
func (f *Frame) fallbackMM(v uint64, dir geom.Vec) float64 {
	depthMM := f.view.depthMM(float64(math.Float32frombits(uint32(v >> 32))))
	if f.view.cam.Parallel {
		return depthMM - f.view.nearMM
	}
	return depthMM / -dir.Dot(f.view.back)
}

// meet returns where a ray meets a plane. Where the plane is seen too flat to
// tell, or the answer strays from the stored depth by over 1 %, the depth rules.
func meet(from, dir, onPlane, normal geom.Vec, depthMM float64) geom.Vec {
	along := onPlane.Sub(from).Dot(normal) / dir.Dot(normal)
	if math.IsNaN(along) || math.Abs(along-depthMM) > 0.01*math.Abs(depthMM)+1 {
		along = depthMM
	}
	return from.Add(dir.Mul(along))
}

// Project returns the pixel of a vehicle point; ok is false behind the eye.
func (f *Frame) Project(p geom.Vec) (xPx, yPx float64, ok bool) {
	xPx, yPx, _, ok = f.view.project(p)
	s := float64(f.samples)
	return xPx / s, yPx / s, ok
}

// grown returns s with length n, old memory where it is enough. The content is
// not cleared.
func grown[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// cleared is grown with all values zero.
func cleared[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}
