package dist

import (
	"aftbay/geom/bvh"
)

// meets decides for surfaces that come within errMM of each other whether they
// overlap or only touch.
func (s *search) meets(a, b Body, errMM float64) bool {
	v := &piercing{s: s}
	bvh.Pairs(s.a, s.b, s.toA, bvh.Touch, v)
	return v.found
}

// piercing looks for an edge that passes through a triangle.
type piercing struct {
	s     *search
	found bool
}

func (v *piercing) Leaves(p bvh.LeafPair) float64 {
	for j := range p.CountB {
		var tb bvh.Triangle
		for k, c := range v.s.b.Slot(p.FirstB + j) {
			tb[k] = v.s.toA.Point(c)
		}
		for i := range p.CountA {
			ta := v.s.a.Slot(p.FirstA + i)
			for k := range 3 {
				if passes(ta[k], ta[(k+1)%3], &tb) || passes(tb[k], tb[(k+1)%3], ta) {
					v.found = true
					return -1
				}
			}
		}
	}
	return bvh.Touch
}
