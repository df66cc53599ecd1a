package lead

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Start is where a lead begins.
type Start struct {
	Point geom.Vec
	Own   *bvh.Tree // the component that it belongs to, nil for none
	Pose  geom.Pose // of Own
	// FreeMM: so near to its connector a lead need not keep a distance.
	FreeMM float64
}

// ownHolds reports whether the component lies on a leg between two points that
// are off its surface.
func (s *Start) ownHolds(from, to geom.Vec) bool {
	if s.Own == nil {
		return false
	}
	back := s.Pose.Inverse()
	return meets(s.Own, back.Point(from), back.Point(to), 0)
}

// leaves reports whether a lead may go straight from its connector to a point.
func (f *Field) leaves(s *Start, to geom.Vec) bool {
	way := to.Sub(s.Point)
	longMM := way.Len()
	if longMM <= offMM {
		return true
	}
	if s.Own != nil {
		// Seen from the far end, so that a connector on the surface is met last
		// and from outside.
		back := s.Pose.Inverse()
		hit, ok := s.Own.FirstHit(back.Point(to), back.Dir(way.Mul(-1)), longMM+offMM)
		if ok && (hit.Back || hit.DistMM < longMM-offMM) {
			return false
		}
	}
	first := s.Point.Add(way.Mul(offMM / longMM))
	free := s.Point.Add(way.Mul(math.Min(1, math.Max(offMM, s.FreeMM)/longMM)))
	return !f.bay.pierced(first, free) && f.search.sees(free, to)
}

// joins reports whether a lead may lie straight between two points of its way.
func (f *Field) joins(s *Start, points []geom.Vec, i, k int) bool {
	if i == 0 {
		return f.leaves(s, points[k])
	}
	return f.search.sees(points[i], points[k]) && !s.ownHolds(points[i], points[k])
}

// tries is how many cells beside a point are tried for the way on.
const tries = 8

// chain returns a way over cells, from the connector to the exit. Where the
// component itself is in the way, it leads around a corner of its box.
func (f *Field) chain(s *Start) ([]geom.Vec, bool) {
	if points, ok := f.onward(s, s.Point, f.leaves); ok || s.Own == nil {
		return points, ok
	}
	bare := *s
	bare.Own = nil
	if _, ok := f.onward(&bare, s.Point, f.leaves); !ok {
		return nil, false // it is not the component
	}
	var best []geom.Vec
	bestMM := math.Inf(1)
	for _, a := range f.corners(s) {
		if a.Sub(s.Point).Len() > bestMM || !f.leaves(s, a) {
			continue
		}
		tail, ok := f.onward(s, a, f.passes(a))
		if way := append([]geom.Vec{s.Point}, tail...); ok && longMM(way) < bestMM {
			best, bestMM = way, longMM(way)
		}
	}
	return best, best != nil
}

// passes returns the test for a leg that begins at a free point.
func (f *Field) passes(from geom.Vec) func(s *Start, to geom.Vec) bool {
	return func(s *Start, to geom.Vec) bool {
		return f.search.sees(from, to) && !s.ownHolds(from, to)
	}
}

// cornerMM is how far off its box a lead goes around its own component.
const cornerMM = 6

// corners returns the free corners of a box around the component.
func (f *Field) corners(s *Start) []geom.Vec {
	box := s.Own.Box()
	grown := geom.Vec{cornerMM, cornerMM, cornerMM}
	box.Min, box.Max = box.Min.Sub(grown), box.Max.Add(grown)
	var out []geom.Vec
	for _, c := range box.Corners() {
		p := s.Pose.Point(c)
		if m, _ := f.bay.room(p, clearMM); m >= 0 && f.bay.within(p) < 0 {
			out = append(out, p)
		}
	}
	return out
}

// onward returns a way over cells from a point whose legs are tested by free.
func (f *Field) onward(s *Start, from geom.Vec, free func(s *Start, to geom.Vec) bool) ([]geom.Vec, bool) {
	if free(s, f.exit) {
		return []geom.Vec{from, f.exit}, true
	}
	var beside []entry
	f.search.near(from, seedCells, func(i int) {
		if f.search.settled[i] {
			beside = append(beside, entry{f.search.wayMM[i] + f.search.middle(i).Sub(from).Len(), int32(i)})
		}
	})
	slices.SortFunc(beside, nearer)
	for _, e := range beside[:min(len(beside), tries)] {
		i := int(e.cell)
		switch parent := int(f.search.parent[i]); {
		case free(s, f.search.place(parent)):
			i = parent
		case !free(s, f.search.middle(i)):
			continue
		}
		points := []geom.Vec{from}
		for ; i != fromStart; i = int(f.search.parent[i]) {
			points = append(points, f.search.middle(i))
		}
		points = append(points, f.exit)
		if !s.onLater(points) {
			return points, true
		}
	}
	return nil, false
}

// onLater reports whether the component lies on a leg after the first.
func (s *Start) onLater(points []geom.Vec) bool {
	for i := 2; i < len(points); i++ {
		if s.ownHolds(points[i-1], points[i]) {
			return true
		}
	}
	return false
}
