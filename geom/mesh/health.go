package mesh

import (
	"math"

	"aftbay/geom"
)

// Health says whether a mesh bounds a solid and counts what is wrong with it.
type Health struct {
	// Closed: every edge is run through as often one way as the other and no
	// facet stands twice, so the mesh has an inside. A body that is wholly
	// inside out is closed too; Flipped then counts all its facets.
	Closed           bool
	OpenEdges        int // edges of one facet
	NonManifoldEdges int // edges of more than two facets
	Degenerate       int // facets without area: equal corners, or flat within float32 rounding
	Duplicate        int // facets that repeat an earlier one, corners and winding
	Flipped          int // facets Mended would turn: against their neighbours, or inside out
}

// Inspect returns the health of m. Edges are counted without degenerate facets,
// save where flat ones with three distinct corners are what closes the surface.
// An empty mesh is not closed. Linear time, but for nested or inside-out bodies.
func Inspect(m *Mesh) Health { return survey(m).health }

// float32Step is the relative step of a float32 coordinate.
const float32Step = 1.0 / (1 << 23)

// findings is all that survey learns about a mesh.
type findings struct {
	health Health
	sound  []bool // sound[t]: facet t is neither degenerate nor a duplicate
	turn   []bool // turn[t]: facet t must be turned to face out
	spared int    // flat facets kept because they close the surface

	empty    []bool    // empty[t]: facet t is degenerate, counted as such though it may be spared
	repeated []bool    // repeated[t]: facet t is a duplicate; nil when there are none
	edges    edgeTable // the edges that were counted, duplicates included
}

func survey(m *Mesh) findings {
	f := findings{}
	f.edgesAndDoubles(m)
	edges := f.edges
	if f.health.Duplicate > 0 {
		edges = edgesOf(m, f.sound)
	}
	f.turn = facingOut(m, f.sound, edges)
	for _, turn := range f.turn {
		if turn {
			f.health.Flipped++
		}
	}
	return f
}

// IsClosed is Inspect(m).Closed, for half the price.
func IsClosed(m *Mesh) bool {
	f := findings{}
	f.edgesAndDoubles(m)
	return f.health.Closed
}

// edgesAndDoubles fills in all but which facets must be turned.
func (f *findings) edgesAndDoubles(m *Mesh) {
	count := f.settle(m)
	// A facet that stands twice runs through its edges twice the same way.
	if count.doubled > 0 {
		f.repeated = duplicates(m, f.sound)
		for t, again := range f.repeated {
			if again {
				f.sound[t] = false
				f.health.Duplicate++
			}
		}
	}
	f.health.OpenEdges, f.health.NonManifoldEdges = count.open, count.crowded
	f.health.Closed = count.all > 0 && count.unbalanced == 0 && f.health.Duplicate == 0
}

// settle decides which facets count, duplicates still among them, and tables
// their edges. Flat facets may patch a seam or lie loose on a face: whichever
// leaves fewer faults.
func (f *findings) settle(m *Mesh) edgeCount {
	flats := f.sift(m)
	f.edges = edgesOf(m, f.sound)
	count := countEdges(f.edges)
	if flats == 0 {
		return count
	}
	without := make([]bool, len(m.Tris))
	for t := range without {
		without[t] = !f.empty[t]
	}
	fewer := edgesOf(m, without)
	if c := countEdges(fewer); c.unbalanced <= count.unbalanced {
		f.sound, f.edges = without, fewer
		return c
	}
	f.spared = flats
	return count
}

// counted returns which facets Inspect counts, duplicates among them. It tables
// edges only if there are flat facets to decide about.
func counted(m *Mesh) []bool {
	f := findings{}
	if f.sift(m) > 0 {
		f.settle(m)
	}
	return f.sound
}

// sift tells facets without area from the others. Those with three distinct
// corners still count as sound here; it returns how many they are.
func (f *findings) sift(m *Mesh) (flats int) {
	f.sound, f.empty = make([]bool, len(m.Tris)), make([]bool, len(m.Tris))
	for t, tri := range m.Tris {
		distinct := tri[0] != tri[1] && tri[1] != tri[2] && tri[2] != tri[0]
		f.sound[t] = distinct
		f.empty[t] = !distinct || isFlat(m.Corners(t))
		if f.empty[t] {
			f.health.Degenerate++
			if distinct {
				flats++
			}
		}
	}
	return flats
}

// isFlat reports whether the least height of a triangle is below the rounding
// of its coordinates, so that its area is noise.
func isFlat(a, b, c geom.Vec) bool {
	longest := math.Sqrt(max(b.Sub(a).LenSqr(), c.Sub(b).LenSqr(), a.Sub(c).LenSqr()))
	doubleArea := b.Sub(a).Cross(c.Sub(a)).Len()
	var reach float64
	for k := range 3 {
		reach = max(reach, math.Abs(a[k]), math.Abs(b[k]), math.Abs(c[k]))
	}
	return doubleArea <= longest*reach*float32Step
}

// edgeCount sums up a table of edges.
type edgeCount struct {
	all, open, crowded int
	unbalanced         int // edges not run through equally often both ways
	doubled            int // edges run through more than once the same way
}

func countEdges(edges edgeTable) edgeCount {
	var c edgeCount
	edges.each(func(e edge) {
		c.all++
		switch {
		case len(e.uses) == 1:
			c.open++
		case len(e.uses) > 2:
			c.crowded++
		}
		forward := 0
		for _, u := range e.uses {
			if u.forward {
				forward++
			}
		}
		if 2*forward != len(e.uses) {
			c.unbalanced++
		}
		if max(forward, len(e.uses)-forward) > 1 {
			c.doubled++
		}
	})
	return c
}

// duplicates returns, for each facet, whether it is among those kept and its
// corners, in the same turning sense, stood before. Two facets back to back are
// no duplicates: they are a thin sheet or the wall between touching solids.
func duplicates(m *Mesh, keep []bool) []bool {
	again := make([]bool, len(m.Tris))
	seen := make(map[[3]int32]struct{}, len(m.Tris))
	for t, tri := range m.Tris {
		if !keep[t] {
			continue
		}
		for tri[0] > tri[1] || tri[0] > tri[2] { // smallest corner first
			tri[0], tri[1], tri[2] = tri[1], tri[2], tri[0]
		}
		_, again[t] = seen[tri]
		seen[tri] = struct{}{}
	}
	return again
}
