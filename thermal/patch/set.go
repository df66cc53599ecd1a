package patch

import (
	"context"
	"sort"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// Body is one part to be cut into patches. A nil Mesh takes no part in the heat
// study.
type Body struct {
	Name   string
	Mesh   *mesh.Mesh // part frame, mm
	Pose   geom.Pose
	Closed bool // a solid; else a sheet with an inner side
	// InnerRadiates: a sheet's inner side has an emissivity of its own.
	InnerRadiates bool
	Tree          *bvh.Tree // over Mesh; built where nil and a solid
	// Source: a hot part; surfaces near it are cut finer.
	Source bool
}

// Solid is a closed part as it stands, for asking what lies inside it.
type Solid struct {
	Tree *bvh.Tree // part frame
	Part geom.Pose // vehicle frame to part frame
	Box  geom.Box  // vehicle frame
}

// Patch is a piece of one part's surface.
type Patch struct {
	Part     int
	Block    int  // of Set.Blocks pieces, numbered over all parts
	Inner    bool // on the inner side of a sheet
	Blind    bool // an inner side that does not radiate
	AreaM2   float64
	CenterMM geom.Vec
	Normal   geom.Vec // mean of the outward normals, not normalised to 1
	Tris     []int32  // triangles of Set.Mesh
}

// Set is all parts cut into patches. Read-only once built.
type Set struct {
	Mesh    *mesh.Mesh // all parts, vehicle frame, mm, long triangles split
	Patches []Patch
	Blocks  int
	// OuterOf[t], InnerOf[t]: patch on each side of triangle t of Mesh;
	// InnerOf is −1 for solids.
	OuterOf, InnerOf []int32
	PartOf           []int32   // PartOf[t]: part of triangle t
	FirstOf          []int     // FirstOf[part]: its first triangle; one more than parts
	SourceOf         []int32   // SourceOf[t]: triangle of the part's own mesh
	TriM2            []float64 // TriM2[t]: area
	EdgesMM          []float64 // EdgesMM[part]: patch edge that was used
	Solids           []Solid   // every closed part
}

// Options say how fine the patches are.
type Options struct {
	EdgeMM      float64 // target edge; 40 where 0
	MostPatches int     // over all parts; 2000 where 0
	MostBlocks  int     // over all parts; 360 where 0
	// Extra is how many bodies at the end get patches of their own, as many
	// again as extraPatches says, without taking from the others.
	Extra int
	// Even cuts nothing finer near sources: for a first, coarse answer.
	Even    bool
	Workers int // 0: one per processor
}

const (
	defaultEdgeMM = 40
	// leastPatches: even a small box shows six sides.
	leastPatches = 6
	// defaultPatches keeps a bay of 60 parts within a second of rays.
	defaultPatches = 2000
	// defaultBlocks keeps the direct solution between blocks within 0.1 s.
	defaultBlocks = 360
	// extraPatches and extraBlocks are what bodies on trial get together: a
	// shield over a bay's exhaust at its usual patch edge.
	extraPatches = 300
	extraBlocks  = 60
	// mm2ToM2 turns mm² into m².
	mm2ToM2 = 1e-6
)

func (o Options) filled() Options {
	if o.EdgeMM == 0 {
		o.EdgeMM = defaultEdgeMM
	}
	if o.MostPatches == 0 {
		o.MostPatches = defaultPatches
	}
	if o.MostBlocks == 0 {
		o.MostBlocks = defaultBlocks
	}
	return o
}

// Build cuts the bodies into patches. The same whatever the number of workers.
// Cost: about T log T over all triangles.
func Build(bodies []Body, o Options) (*Set, error) {
	o = o.filled()
	if !(o.EdgeMM > 0) {
		return nil, say.Errorf("patch edge %g mm: give a length above 0", o.EdgeMM)
	}
	posed := make([][]geom.Vec, len(bodies)) // posed[b]: vertices in the vehicle frame
	want := make([]int, len(bodies))
	areas := make([]float64, len(bodies))
	for i, b := range bodies {
		if b.Mesh == nil || len(b.Mesh.Tris) == 0 {
			continue
		}
		posed[i] = make([]geom.Vec, len(b.Mesh.Verts))
		for v, p := range b.Mesh.Verts {
			posed[i][v] = b.Pose.Point(p)
			if !geom.IsFinite(posed[i][v]) {
				return nil, say.Errorf("part %q: corner %d is not a finite point", b.Name, v)
			}
		}
	}
	near := newNearness(bodies, posed, o)
	o.each(len(bodies), func(i int) {
		if posed[i] == nil {
			return
		}
		areas[i] = areaMM2(bodies[i].Mesh)
		want[i] = max(leastPatches, int(near.pieces(i, bodies[i].Mesh, posed[i])+0.5))
	})
	sides := func(i int) int {
		if bodies[i].Closed {
			return 1
		}
		return 2
	}
	usual := len(bodies) - o.Extra
	shares := func(most, extra int) []int {
		trial := func(i int) int { return sides(usual + i) }
		return append(share(want[:usual], sides, most), share(want[usual:], trial, extra)...)
	}
	patches, blocks := shares(o.MostPatches, extraPatches), shares(o.MostBlocks, extraBlocks)
	alone := make([]Set, len(bodies)) // alone[b]: body b by itself
	o.each(len(bodies), func(i int) {
		alone[i].Mesh = &mesh.Mesh{}
		if want[i] > 0 {
			alone[i].add(i, bodies[i], posed[i], piece{
				patches: patches[i], blocks: min(blocks[i], patches[i]), wantMM: o.EdgeMM, areaMM2: areas[i], near: near,
			})
		}
	})
	return joined(bodies, alone), nil
}

// each calls f for every body.
func (o Options) each(n int, f func(i int)) {
	// It cannot fail: nothing ends the context.
	_ = geom.Each(context.Background(), o.Workers, n, nil, func(i int) error {
		f(i)
		return nil
	})
}

// share returns how many pieces each part gets: all it wants, or no more than a
// common limit where the sum over both sides would pass most.
func share(want []int, sides func(int) int, most int) []int {
	limit := 0
	for _, n := range want {
		limit = max(limit, n)
	}
	total := func(limit int) int {
		sum := 0
		for i, n := range want {
			sum += min(n, limit) * sides(i)
		}
		return sum
	}
	if total(limit) > most { // the largest limit that fits
		limit = max(1, sort.Search(limit, func(l int) bool { return total(l+1) > most }))
	}
	out := make([]int, len(want))
	for i, n := range want {
		out[i] = min(n, limit)
	}
	return out
}

func areaMM2(m *mesh.Mesh) float64 {
	var sumMM2 float64
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		sumMM2 += b.Sub(a).Cross(c.Sub(a)).Len() / 2
	}
	return sumMM2
}
