package spot

import (
	"math"
	"math/rand/v2"
	"sort"

	"aftbay/geom"
)

// place is one point of a host's surface.
type place struct {
	host   int // index in the scene
	point  geom.Vec
	normal geom.Vec // unit, away from the host
	along  geom.Vec // direction from which turns are counted; zero for X
}

// cloud is the points of all hosts, first an even coarse set, then fine ones.
type cloud struct {
	first            []place
	fine             []place
	areaMM2          float64
	coarseMM, fineMM float64 // mean distance of neighbours
}

const (
	// thinning: so many points are drawn for each that is kept, so that those
	// kept lie evenly.
	thinning = 4
	// finer: so many more points are drawn for the second round; only those
	// near good places are tried.
	finer = 6
	// apart: points of the first round keep this share of the mean distance.
	apart = 0.7
)

// spread draws the points.
func (st *study) spread() *cloud {
	d := st.newDraw()
	n := st.options.PointsPerHost * len(st.hosts)
	c := &cloud{areaMM2: d.areaMM2()}
	c.coarseMM = math.Sqrt(c.areaMM2 / float64(n))
	c.fineMM = math.Sqrt(c.areaMM2 / float64(n*finer))
	kept := newCrowd(apart * c.coarseMM)
	for k := range n * thinning {
		if p := d.place(k); kept.take(p) {
			c.first = append(c.first, p)
		}
	}
	for k := range n * finer {
		c.fine = append(c.fine, d.place(n*thinning+k))
	}
	return c
}

// crowd keeps places apart: a grid of boxes as wide as the distance to keep.
type crowd struct {
	apartMM float64
	boxes   map[[3]int32][]place
}

func newCrowd(apartMM float64) *crowd {
	return &crowd{apartMM: math.Max(apartMM, 1e-6), boxes: map[[3]int32][]place{}}
}

// take adds a place unless it has a neighbour on the same host, facing alike,
// too near.
func (c *crowd) take(p place) bool {
	var at [3]int32
	for k := range at {
		at[k] = int32(math.Floor(p.point[k] / c.apartMM))
	}
	for i := range int32(27) {
		for _, q := range c.boxes[[3]int32{at[0] + i%3 - 1, at[1] + i/3%3 - 1, at[2] + i/9 - 1}] {
			if q.host == p.host && q.point.Sub(p.point).Len() < c.apartMM && q.normal.Dot(p.normal) > 0.5 {
				return false
			}
		}
	}
	c.boxes[at] = append(c.boxes[at], p)
	return true
}

// around returns the fine points near the given trials, on the same hosts.
func (c *cloud) around(good []*trial) []place {
	var out []place
	for _, p := range c.fine {
		for _, t := range good {
			if t.host == p.host && t.point.Sub(p.point).Len() < c.coarseMM && t.normal.Dot(p.normal) > 0.5 {
				out = append(out, p)
				break
			}
		}
	}
	return out
}

// draw spreads points over the triangles of the hosts.
type draw struct {
	study *study
	faces []face
	upMM2 []float64  // upMM2[i]: area of faces up to and with i
	start [3]float64 // Bare numbers: where the sequence begins, 0..1
}

// face is one side of a triangle of a host.
type face struct {
	host, tri int
	inner     bool // of a sheet
}

// newDraw lists the faces; sheets have two sides.
func (st *study) newDraw() *draw {
	d := &draw{study: st}
	var sumMM2 float64
	for _, h := range st.hosts {
		p := &st.scene.Parts[h]
		for t := range p.Mesh.Tris {
			a, b, c := p.Mesh.Corners(t)
			areaMM2 := b.Sub(a).Cross(c.Sub(a)).Len() / 2
			if areaMM2 == 0 {
				continue
			}
			sumMM2 += areaMM2
			d.faces, d.upMM2 = append(d.faces, face{h, t, false}), append(d.upMM2, sumMM2)
			if !p.Closed {
				sumMM2 += areaMM2
				d.faces, d.upMM2 = append(d.faces, face{h, t, true}), append(d.upMM2, sumMM2)
			}
		}
	}
	random := rand.New(rand.NewPCG(st.options.Seed, uint64(st.number)))
	for k := range d.start {
		d.start[k] = random.Float64()
	}
	return d
}

func (d *draw) areaMM2() float64 { return d.upMM2[len(d.upMM2)-1] }

// steps of the additive sequence in three dimensions: 1/g, 1/g², 1/g³ with g
// the real root of g⁴ = g + 1.
//
// Source: M. Roberts, "The unreasonable effectiveness of quasirandom
// sequences", 2018, from memory; the test checks the root. Read-only.
var steps = [3]float64{0.8191725133961645, 0.6710436067037893, 0.5497004779019703}

// place returns point k of the sequence.
func (d *draw) place(k int) place {
	var u [3]float64
	for i := range u {
		_, u[i] = math.Modf(d.start[i] + float64(float64(k)*steps[i]))
	}
	f := d.faces[min(sort.SearchFloat64s(d.upMM2, u[0]*d.areaMM2()), len(d.faces)-1)]
	part := &d.study.scene.Parts[f.host]
	a, b, c := part.Mesh.Corners(f.tri)
	root := math.Sqrt(u[1])
	at := a.Mul(1 - root).Add(b.Mul(root * (1 - u[2]))).Add(c.Mul(root * u[2]))
	normal := b.Sub(a).Cross(c.Sub(a)).Normalize()
	if f.inner {
		normal = normal.Mul(-1)
	}
	p := place{host: f.host, point: part.Pose.Point(at), normal: part.Pose.Dir(normal)}
	// Level where the surface has a level direction, else as the host lies: both
	// turn with the layout.
	p.along = geom.Vec{0, 0, 1}.Cross(p.normal)
	if p.along.Len() < levelSin {
		p.along = part.Pose.Dir(geom.Vec{1, 0, 0})
	}
	return p
}

// levelSin: a surface tilted by less than 3 degrees has no level direction worth
// the name.
const levelSin = 0.05
