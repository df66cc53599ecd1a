package radiate

import (
	"slices"

	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// scratch is what a worker needs for one patch, kept for the next.
type scratch struct {
	emitter emitter
	points  []point
	// The rays that are shot, those that go the same way one after another, so
	// that each finds in the processor's cache what the last one looked at. Where
	// they end does not depend on it.
	rays  []bvh.Ray
	order []int32   // order[i]: number of rays[i] in the patch
	found []bvh.Hit // found[i]: what rays[i] met
	cover cover
	count []int32 // count[patch]: rays that met it
	seen  []int32 // patches with a count
}

// sectorBits is the number of bits of a sector's row and of its column.
const sectorBits = 5

// spread[x] has the bits of x with one place left free between any two. Read-only.
var spread = func() (out [1 << sectorBits]uint32) {
	for x := range out {
		for k := range sectorBits {
			out[x] |= uint32(x) >> k & 1 << (2 * k)
		}
	}
	return out
}()

// sector returns the sector of the direction, numbered so that near sectors
// mostly have near numbers (Morton's order).
func (p *point) sector() uint32 {
	return spread[p[2]>>(32-sectorBits)] | spread[p[3]>>(32-sectorBits)]<<1
}

// deal makes the rays of a patch, sorted by their sectors.
func (s *scratch) deal(rays int, farMM float64) {
	e := &s.emitter
	s.points = slices.Grow(s.points[:0], rays)[:rays]
	s.rays = slices.Grow(s.rays[:0], rays)[:rays]
	s.order = slices.Grow(s.order[:0], rays)[:rays]
	var ends [1 << (2 * sectorBits)]int32
	for k := range s.points {
		e.pts.next(&s.points[k])
		ends[s.points[k].sector()]++
	}
	sum := int32(0)
	for i, n := range ends {
		ends[i] = sum
		sum += n
	}
	for k := range s.points {
		at := &ends[s.points[k].sector()]
		s.order[*at] = int32(k)
		r := &s.rays[*at]
		r.NearMM, r.FarMM = 0, farMM
		e.ray(&s.points[k], r)
		*at++
	}
}

// keep takes out the rays that end where they did before.
func (s *scratch) keep(b *before, old, hits []int32) (buried bool) {
	n := 0
	for i, k := range s.order {
		if r := &s.rays[i]; b.stands(old[k], r.Origin, r.Dir) {
			hits[k] = old[k]
			buried = buried || old[k] == metBuried
			continue
		}
		s.rays[n], s.order[n] = s.rays[i], k
		n++
	}
	s.rays, s.order = s.rays[:n], s.order[:n]
	return buried
}

// bury finds the rays that start inside solids of a set among those that met
// something else.
func (s *scratch) bury(set *patch.Set, hits []int32) {
	s.cover.start(&s.emitter, set)
	for i, k := range s.order {
		if hits[k] == metBuried {
			continue
		}
		r, endMM := &s.rays[i], s.found[i].DistMM
		if s.found[i].Tri < 0 {
			endMM = r.FarMM
		}
		if s.cover.buries(r, endMM, s.emitter.offMM) {
			hits[k] = metBuried
		}
	}
}

// tally counts what the rays of patch i met.
func (s *scratch) tally(out *tally, i int32, patches int) {
	s.count = slices.Grow(s.count[:0], patches)[:patches]
	out.again = len(s.rays)
	for _, to := range out.hits {
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
