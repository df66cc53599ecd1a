package bvh

import (
	"math"

	"aftbay/geom"
)

// aim prepares s; false when the ray cannot meet the tree.
func (s *shot) aim(t *Tree, r Ray) bool {
	length := r.Dir.Len()
	if len(t.slots) == 0 || !(length > 0) || math.IsInf(length, 1) || !(r.FarMM > r.NearMM) {
		return false
	}
	dir := r.Dir.Mul(1 / length)
	s.from, s.nearMM, s.farMM, s.slot = r.Origin.Sub(t.origin), max(0, r.NearMM), r.FarMM, -1
	if !s.enter(&t.nodes[0], dir) {
		return false
	}

	// Shear so that the ray runs along +z of (kx, ky, kz).
	for k := range 3 {
		if math.Abs(dir[k]) > math.Abs(dir[s.kz]) {
			s.kz = k
		}
	}
	s.kx = (s.kz + 1) % 3
	s.ky = (s.kx + 1) % 3
	if dir[s.kz] < 0 {
		s.kx, s.ky = s.ky, s.kx
	}
	s.xRatio, s.yRatio, s.zRatio = dir[s.kx]/dir[s.kz], dir[s.ky]/dir[s.kz], 1/dir[s.kz]
	return true
}

// slabSlack covers the rounding of the float32 box test, as a ratio: Ize's
// 2·γ(3) for the product, the same again for the rounded direction.
const slabSlack = 1e-6

// enter moves the start of the box test up to the root box, so that float32 is
// fine enough however far away the ray starts; false when the box is missed.
func (s *shot) enter(root *node, dir geom.Vec) bool {
	in, out := s.nearMM, s.farMM
	var sizeMM float64
	for k := range 3 {
		lo, hi := float64(root.lo[k]), float64(root.hi[k])
		sizeMM = max(sizeMM, math.Abs(lo), math.Abs(hi))
		if dir[k] == 0 {
			if s.from[k] < lo || s.from[k] > hi {
				return false
			}
			continue
		}
		a, b := (lo-s.from[k])/dir[k], (hi-s.from[k])/dir[k]
		in, out = max(in, min(a, b)), min(out, max(a, b))
	}
	pad := 1e-12 * (in + sizeMM) // rounding of the quotients above, generously
	if !(in <= out+pad) {
		return false
	}
	s.startMM = in
	pad = slabSlack * sizeMM // the moved start, rounded to float32
	for k := range 3 {
		o := s.from[k] + in*dir[k]
		s.lo[k], s.hi[k] = float32(o+pad), float32(o-pad)
		d := dir[k]
		if math.Abs(d) < 1e-18 { // keeps 0·inf out of the slab test
			d = math.Copysign(1e-18, d)
		}
		s.inv[k] = float32(1 / d)
	}
	return true
}
