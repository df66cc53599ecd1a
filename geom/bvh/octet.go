package bvh

import "aftbay/geom"

// octet is up to eight boxes of the tree side by side, 768 bytes: the children
// of one box, each straight and oriented, lane by lane, so that one instruction
// works on all of them. A box of the tree is named by octet and lane as
// octet·lanes + lane; box 0, the root, is alone in its octet.
//
// Straight boxes are rounded outward. The oriented one holds the points whose
// component along axis k, from mid, is at most half[k] in size. An unused lane
// has a straight box from +Inf to -Inf, which is infinitely far from everything.
type octet struct {
	lo, hi    [3][lanes]float32
	mid, half [3][lanes]float32
	axis      [3][3][lanes]float32 // axis[k][c]: component c of axis k
	size      [lanes]float32       // length of half, mm, rounded up
	at        [lanes]int32         // leaf: first slot; else the octet of the children
	count     [lanes]int32         // leaf: number of triangles; else 0
}

// box returns the straight box of a lane, relative to the tree's origin.
func (o *octet) box(lane int32) (b geom.Box) {
	lane &= lanes - 1
	for k := range 3 {
		b.Min[k], b.Max[k] = float64(o.lo[k][lane]), float64(o.hi[k][lane])
	}
	return b
}

// turned returns the oriented box of a lane.
func (o *octet) turned(lane int32) (b turnedBox) {
	lane &= lanes - 1
	for k := range 3 {
		b.mid[k], b.half[k] = o.mid[k][lane], o.half[k][lane]
		for c := range 3 {
			b.axis[k][c] = o.axis[k][c][lane]
		}
	}
	b.size = o.size[lane]
	return b
}

// setTurned fills in the oriented box of a lane.
func (o *octet) setTurned(lane int32, b *turnedBox) {
	for k := range 3 {
		o.mid[k][lane], o.half[k][lane] = b.mid[k], b.half[k]
		for c := range 3 {
			o.axis[k][c][lane] = b.axis[k][c]
		}
	}
	o.size[lane] = b.size
}
