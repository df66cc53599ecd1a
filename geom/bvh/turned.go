package bvh

import (
	"math"
	"sync"

	"aftbay/geom"
)

// turnedBox is an oriented box relative to the tree's origin: the
// points whose component along axis k, from mid, is at most half[k] in size.
type turnedBox struct {
	mid  [3]float32
	half [3]float32 // mm, rounded outward for the float32 axes as they are
	axis [3][3]float32
	size float32 // length of half, mm
}

// directLimit is the number of triangles up to which a node's oriented box is
// fitted to the triangles themselves; above, to the boxes of its octet. It keeps
// the build near n log(directLimit).
const directLimit = 4096

// moments are the sums a principal-axes fit needs, additive over triangles.
type moments struct {
	areaMM2   float64
	first     geom.Vec   // area-weighted sum of points
	secondMM4 [6]float64 // area-weighted sum of xx, yy, zz, xy, yz, zx
}

// fitter fills in the oriented boxes of a tree's octets.
type fitter struct {
	tree   *Tree
	laneOf []int32 // laneOf[i]: box of node i, -1 for none
	span   []int32 // span[i]: triangles below node i
}

// fit fills the oriented boxes of node i, whose slots start at from, and of those
// below. It returns the node's moments, which grow from those of its children.
func (f *fitter) fit(i, from int32) (m moments) {
	n := &f.tree.nodes[i]
	switch {
	case n.count > 0:
		for s := from; s < from+n.count; s++ {
			m.add(triangleMoments(&f.tree.slots[s]))
		}
	case f.span[i] > together: // side by side
		var right moments
		var other sync.WaitGroup
		other.Go(func() { right = f.fit(n.at+1, from+f.span[n.at]) })
		m = f.fit(n.at, from)
		other.Wait()
		m.add(right)
	default:
		m = f.fit(n.at, from)
		m.add(f.fit(n.at+1, from+f.span[n.at]))
	}
	if box := f.laneOf[i]; box >= 0 {
		best := f.best(i, m, from, from+f.span[i])
		f.tree.octets[box/lanes].setTurned(box%lanes, &best)
	}
	return m
}

// best returns the tighter of the box along the principal axes and the node's
// axis-aligned box.
func (f *fitter) best(i int32, m moments, from, to int32) turnedBox {
	n := &f.tree.nodes[i]
	box := f.around(i, m.axes(), from, to)
	var straight turnedBox
	for k := range 3 {
		straight.mid[k] = 0.5 * (n.lo[k] + n.hi[k])
		half := math.Max(float64(n.hi[k])-float64(straight.mid[k]), float64(straight.mid[k])-float64(n.lo[k]))
		straight.half[k] = math.Nextafter32(float32(half), float32(math.Inf(1)))
		straight.axis[k][k] = 1
	}
	straight.measure()
	if box.halfAreaMM2() < straight.halfAreaMM2() {
		return box
	}
	return straight
}

// around returns the least box along the given axes that holds the slots.
func (f *fitter) around(i int32, axes [3]geom.Vec, from, to int32) turnedBox {
	var b turnedBox
	var axis [3]geom.Vec // the axes as float32 holds them
	for k := range 3 {
		for c := range 3 {
			b.axis[k][c] = float32(axes[k][c])
			axis[k][c] = float64(b.axis[k][c])
		}
	}
	e := noExtent()
	if to-from > directLimit {
		kids := &f.tree.octets[f.tree.octets[f.laneOf[i]/lanes].at[f.laneOf[i]%lanes]]
		for lane := range int32(lanes) {
			if kids.lo[0][lane] > kids.hi[0][lane] {
				break
			}
			box := kids.turned(lane)
			for _, p := range box.corners() {
				e.grow(&axis, &p)
			}
		}
	} else {
		for s := from; s < to; s++ {
			for k := range 3 {
				e.grow(&axis, &f.tree.slots[s][k])
			}
		}
	}
	b.settle(axis, e.lo, e.hi)
	return b
}

// extent is how far points reach along three axes.
type extent struct{ lo, hi geom.Vec }

func noExtent() extent {
	b := geom.EmptyBox()
	return extent{b.Min, b.Max}
}

// grow widens e over a point.
func (e *extent) grow(axis *[3]geom.Vec, p *geom.Vec) {
	x, y, z := p[0], p[1], p[2]
	for k := range axis {
		a := &axis[k]
		d := a[0]*x + a[1]*y + a[2]*z
		if d < e.lo[k] {
			e.lo[k] = d
		}
		if d > e.hi[k] {
			e.hi[k] = d
		}
	}
}

// settle sets mid and half so that the box surely holds every point whose
// components along the axes lie in lo..hi.
func (b *turnedBox) settle(axis [3]geom.Vec, lo, hi geom.Vec) {
	var mid geom.Vec
	for k := range 3 {
		mid = mid.Add(axis[k].Mul(0.5 * (lo[k] + hi[k])))
	}
	for k := range 3 {
		b.mid[k] = float32(mid[k])
		mid[k] = float64(b.mid[k])
	}
	var reachMM float64 // of the corners and the middle, which dot products round by
	for k := range 3 {
		reachMM += math.Abs(lo[k]) + math.Abs(hi[k]) + math.Abs(mid[k])
	}
	for k := range 3 {
		m := axis[k].Dot(mid)
		halfMM := math.Max(hi[k]-m, m-lo[k]) + 1e-15*reachMM
		b.half[k] = math.Nextafter32(float32(halfMM), float32(math.Inf(1)))
	}
	b.measure()
}

func (b *turnedBox) measure() {
	var sum float64
	for _, h := range b.half {
		sum += float64(h) * float64(h)
	}
	b.size = math.Nextafter32(float32(math.Sqrt(sum)), float32(math.Inf(1)))
}

func (b *turnedBox) halfAreaMM2() float64 {
	x, y, z := float64(b.half[0]), float64(b.half[1]), float64(b.half[2])
	return x*y + y*z + z*x
}

// corners returns the corners, a hair (1e-6 of the size) outside the box, which
// covers that float32 axes are not exactly at right angles.
func (b *turnedBox) corners() (c [8]geom.Vec) {
	for i := range c {
		for x := range 3 {
			c[i][x] = float64(b.mid[x])
		}
		for k := range 3 {
			h := float64(b.half[k]) + nonOrthogonal*float64(b.size)
			if i>>k&1 == 0 {
				h = -h
			}
			for x := range 3 {
				c[i][x] += h * float64(b.axis[k][x])
			}
		}
	}
	return c
}

// nonOrthogonal bounds how far a set of float32-rounded orthonormal axes is
// from orthonormal, as a ratio: nine roundings of 2^-24 each, doubled.
const nonOrthogonal = 1e-6

func (m *moments) add(o moments) {
	m.areaMM2 += o.areaMM2
	m.first = m.first.Add(o.first)
	for k := range m.secondMM4 {
		m.secondMM4[k] += o.secondMM4[k]
	}
}

// triangleMoments returns the moments of one triangle over its area.
// Source: exact integral of a quadratic over a triangle, area/12 times the sum
// over the corners and three times the middle.
func triangleMoments(t *Triangle) moments {
	areaMM2 := 0.5 * t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Len()
	mid := t[0].Add(t[1]).Add(t[2]).Mul(1.0 / 3)
	m := moments{areaMM2: areaMM2, first: mid.Mul(areaMM2)}
	for k := range 3 {
		l := (k + 1) % 3
		for _, p := range t {
			m.secondMM4[k] += areaMM2 / 12 * p[k] * p[k]
			m.secondMM4[3+k] += areaMM2 / 12 * p[k] * p[l]
		}
		m.secondMM4[k] += areaMM2 * 9 / 12 * mid[k] * mid[k]
		m.secondMM4[3+k] += areaMM2 * 9 / 12 * mid[k] * mid[l]
	}
	return m
}

// axes returns the principal axes, right-handed; the coordinate axes when there
// is no area.
func (m *moments) axes() [3]geom.Vec {
	if !(m.areaMM2 > 0) {
		return [3]geom.Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	}
	mid := m.first.Mul(1 / m.areaMM2)
	var s symmetric
	for k := range 3 {
		l := (k + 1) % 3
		s.at[k] = m.secondMM4[k]/m.areaMM2 - mid[k]*mid[k]
		s.beside[k] = m.secondMM4[3+k]/m.areaMM2 - mid[k]*mid[l]
	}
	return s.principal()
}
