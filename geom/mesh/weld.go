package mesh

import (
	"math"

	"aftbay/geom"
)

// weld gathers corners and gives equal ones the same number, in the order in
// which they come.
type weld struct {
	verts []geom.Vec
	slots []int32 // number + 1 of the corner that fell here; 0: none; len a power of two
	mask  uint64
}

// newWeld has room for about so many corners; it grows beyond.
func newWeld(corners int) *weld {
	w := &weld{verts: make([]geom.Vec, 0, corners)}
	w.room(2 * corners)
	return w
}

// room makes a table of at least so many slots and puts the corners into it.
func (w *weld) room(least int) {
	size := 16
	for size < least {
		size *= 2
	}
	w.slots, w.mask = make([]int32, size), uint64(size-1)
	for i, v := range w.verts {
		at := w.start(float32(v[0]), float32(v[1]), float32(v[2]))
		for w.slots[at] != 0 {
			at = (at + 1) & w.mask
		}
		w.slots[at] = int32(i) + 1
	}
}

// start returns where a corner is looked for first.
//
// Source: the multiplier is that of L'Ecuyer's 64-bit congruential generators as
// used by PCG (from memory); any odd number of mixed bits would do.
func (w *weld) start(x, y, z float32) uint64 {
	const mix = 0x5851f42d4c957f2d
	h := uint64(math.Float32bits(x))<<32 | uint64(math.Float32bits(y))
	h = (h ^ h>>29) * mix
	h = (h ^ uint64(math.Float32bits(z))) * mix
	return (h ^ h>>32) & w.mask
}

// corner returns the number of a corner; -0 equals 0.
//
// Bare numbers: coordinates of a file have no unit.
func (w *weld) corner(x, y, z float32) int32 {
	x, y, z = x+0, y+0, z+0 // -0 + 0 is +0
	p := geom.Vec{float64(x), float64(y), float64(z)}
	at := w.start(x, y, z)
	for w.slots[at] != 0 {
		if i := w.slots[at] - 1; w.verts[i] == p {
			return i
		}
		at = (at + 1) & w.mask
	}
	w.verts = append(w.verts, p)
	w.slots[at] = int32(len(w.verts))
	if 2*len(w.verts) > len(w.slots) {
		w.room(2 * len(w.slots))
	}
	return int32(len(w.verts)) - 1
}
