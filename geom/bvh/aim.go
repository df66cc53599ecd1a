package bvh

import (
	"math"

	"aftbay/geom"
)

// aim prepares s for a tree with an origin and a root box; false when the ray
// cannot meet it.
func (s *shot) aim(origin *geom.Vec, root *node, r *Ray) bool {
	length := r.Dir.Len()
	if !(length > 0) || math.IsInf(length, 1) || !(r.FarMM > r.NearMM) {
		return false
	}
	s.from, s.nearMM, s.farMM, s.tri = r.Origin.Sub(*origin), max(0, r.NearMM), r.FarMM, -1
	if !s.enter(root, &r.Dir, length) {
		return false
	}
	// 1/direction for the boxes; bounded, which keeps 0·inf out of their test.
	inverse := geom.Vec{1 / r.Dir[0], 1 / r.Dir[1], 1 / r.Dir[2]}
	for k := range 3 {
		inv := length * inverse[k]
		if !(math.Abs(inv) < mostInverse) {
			inv = math.Copysign(mostInverse, r.Dir[k])
		}
		s.inv[k] = float32(inv)
	}

	// Shear so that the ray runs along +z of (kx, ky, kz).
	x, y, z := math.Abs(r.Dir[0]), math.Abs(r.Dir[1]), math.Abs(r.Dir[2])
	s.kz = 0
	if y > x {
		s.kz, x = 1, y
	}
	if z > x {
		s.kz = 2
	}
	s.kx, s.ky = nextAxis[s.kz&3], nextAxis[s.kz&3+1]
	if r.Dir[s.kz] < 0 {
		s.kx, s.ky = s.ky, s.kx
	}
	s.xFromMM, s.yFromMM, s.zFromMM = s.from[s.kx], s.from[s.ky], s.from[s.kz]
	perZ := inverse[s.kz]
	s.xRatio, s.yRatio, s.zRatio = r.Dir[s.kx]*perZ, r.Dir[s.ky]*perZ, length*perZ
	return true
}

// nextAxis[k] comes after axis k, nextAxis[k+1] after that. Read-only.
var nextAxis = [5]int{1, 2, 0, 1, 2}

const (
	// slabSlack covers the rounding of the float32 box test, as a ratio: Ize's
	// 2·γ(3) for the product, the same again for the rounded direction.
	slabSlack = 1e-6
	// mostInverse bounds 1/direction: a ray that runs along a side of a box.
	mostInverse = 1e18
)

// enter moves the start of the box test up to the root box, so that float32 is
// fine enough however far away the ray starts; false when the box is missed.
func (s *shot) enter(root *node, dir *geom.Vec, lengthMM float64) bool {
	in, out := s.nearMM, s.farMM
	sizeMM := 0.0
	outside := in > 0
	for k := range 3 {
		lo, hi := float64(root.lo[k]), float64(root.hi[k])
		sizeMM = max(sizeMM, -lo, hi)
		outside = outside || !(s.from[k] >= lo && s.from[k] <= hi)
	}
	start := s.from
	if outside {
		unit := dir.Mul(1 / lengthMM)
		for k := range 3 {
			lo, hi := float64(root.lo[k]), float64(root.hi[k])
			if unit[k] == 0 {
				if s.from[k] < lo || s.from[k] > hi {
					return false
				}
				continue
			}
			a, b := (lo-s.from[k])/unit[k], (hi-s.from[k])/unit[k]
			in, out = max(in, min(a, b)), min(out, max(a, b))
		}
		pad := 1e-12 * (in + sizeMM) // rounding of the quotients above, generously
		if !(in <= out+pad) {
			return false
		}
		start = s.from.Add(unit.Mul(in))
	}
	s.startMM = in
	pad := slabSlack * sizeMM // the moved start, rounded to float32
	for k := range 3 {
		s.lo[k], s.hi[k] = float32(start[k]+pad), float32(start[k]-pad)
	}
	return true
}
