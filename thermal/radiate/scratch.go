package radiate

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// scratch is what a worker needs for one patch, kept for the next.
type scratch struct {
	dealt []dealt
	order []int32   // in which the rays are shot
	rays  []bvh.Ray // those shot, in that order
	asked []int32   // asked[i]: number of rays[i] among those dealt
	found []bvh.Hit // found[i]: what rays[i] met
	cover cover
	count []int32 // count[patch]: rays that met it
	seen  []int32 // patches with a count
}

// dealt is one ray of a patch.
type dealt struct {
	origin, dir geom.Vec
	at          int32   // triangle of the patch that it starts from
	sector      uint32  // of its direction
	endMM       float64 // how far it goes until it meets something
	stands      bool    // meets what it met before
}

// sectorBits is the number of bits of a sector's row and of its column.
const sectorBits = 5

// sectorOf returns the sector of a direction by the two numbers that it is made
// from, numbered so that near sectors mostly have near numbers (Morton's order).
func sectorOf(u, v float64) (sector uint32) {
	x, y := uint32(u*(1<<sectorBits)), uint32(v*(1<<sectorBits))
	for k := range sectorBits {
		sector |= x>>k&1<<(2*k) | y>>k&1<<(2*k+1)
	}
	return sector
}

// deal makes the rays of a patch and the order of shooting: those that go the
// same way one after another, so that each finds in the processor's cache what
// the last one looked at. Where they end does not depend on it.
func (s *scratch) deal(e *emitter, rays int) {
	s.dealt = slices.Grow(s.dealt[:0], rays)[:rays]
	s.order = slices.Grow(s.order[:0], rays)[:rays]
	var ends [1 << (2 * sectorBits)]int32
	for k := range s.dealt {
		r := &s.dealt[k]
		e.next(r)
		ends[r.sector]++
	}
	sum := int32(0)
	for i, n := range ends {
		ends[i] = sum
		sum += n
	}
	for k := range s.dealt {
		at := &ends[s.dealt[k].sector]
		s.order[*at] = int32(k)
		*at++
	}
}

// bury finds the rays that start inside solids of a set among those that met
// something else.
func (s *scratch) bury(e *emitter, set *patch.Set, hits []int32) {
	s.cover.start(e, set)
	for k := range s.dealt {
		if r := &s.dealt[k]; !r.stands && hits[k] != metBuried && s.cover.buries(r, e.offMM) {
			hits[k] = metBuried
		}
	}
}

// tally counts what the rays of patch i met.
func (s *scratch) tally(out *tally, i int32, patches int) {
	s.count = slices.Grow(s.count[:0], patches)[:patches]
	for k, to := range out.hits {
		if !s.dealt[k].stands {
			out.again++
		}
		switch to {
		case metNothing:
			out.missed++
			continue
		case metBuried:
			out.buried++
			to = i
		}
		if s.count[to] == 0 {
			s.seen = append(s.seen, to)
		}
		s.count[to]++
	}
	slices.Sort(s.seen)
	out.to, out.count = slices.Clone(s.seen), make([]int32, len(s.seen))
	for k, to := range s.seen {
		out.count[k] = s.count[to]
		s.count[to] = 0
	}
	s.seen = s.seen[:0]
}
