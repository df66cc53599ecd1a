package simplify

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// ErrDeviation says that the deviation asked for is no positive number.
var ErrDeviation = say.New("the deviation must be a number above 0 mm: enter how far the coarse surface may lie off")

// ErrCoordinates says that the mesh holds a number that is not finite.
var ErrCoordinates = say.New("the mesh holds a coordinate that is not finite: export the part again")

// Report says what became of a mesh.
type Report struct {
	Before, After int // triangles
	// BoundMM is proven: every point of either surface lies within it of the
	// other. 0 when the mesh came back as it was.
	BoundMM float64
	// SeenMM is the largest distance met while proving: the true deviation lies
	// between SeenMM and BoundMM.
	SeenMM float64
	Rounds int // how often the work began anew because the proof failed
}

const (
	// rounds is how often the work may begin anew. Tried on the demo meshes: the
	// first to third round passes.
	rounds = 6
	// firstShare is the share of the deviation that the collapses may use in the
	// first round; the rest is for what lies between the corners they look at.
	firstShare = 0.9
	// nextShare is what each further round may use of the share before.
	nextShare = 0.9
	// roundingSteps bounds the rounding of the proof in units of 2^-53 times the
	// size of the mesh: a foot on a triangle and the cuts, generously.
	roundingSteps = 256
)

// To returns a mesh with as few triangles as it can that lies within deviationMM
// of m, both ways: every point of either surface has a point of the other that
// near. That is proven, not sampled (see the package comment). A closed mesh
// stays closed, bodies stay apart bodies, no facet is turned over. Where nothing
// can be saved it returns m itself.
//
// Same input, same bits. Errors: ErrDeviation, ErrCoordinates, the error of ctx.
// Cost: some tens of microseconds a triangle.
func To(ctx context.Context, m *mesh.Mesh, deviationMM float64) (*mesh.Mesh, Report, error) {
	if !(deviationMM > 0) || math.IsInf(deviationMM, 0) {
		return nil, Report{}, say.Errorf("simplify: %w", ErrDeviation)
	}
	for _, v := range m.Verts {
		if !geom.IsFinite(v) {
			return nil, Report{}, say.Errorf("simplify: %w", ErrCoordinates)
		}
	}
	r := Report{Before: len(m.Tris), After: len(m.Tris)}
	fine, _ := mesh.Mended(m)
	limitMM := deviationMM - roundingSteps*0x1p-53*(fine.Box().DiagonalMM()+fine.Box().Center().Len())
	if len(fine.Tris) == 0 || !(limitMM > 0) {
		return m, r, ctx.Err()
	}
	fineTree, kept := bvh.Build(fine), make([]bool, len(fine.Verts))
	shareMM := firstShare * limitMM
	for ; r.Rounds < rounds; r.Rounds++ {
		s := newSurface(fineTree, kept, shareMM)
		if err := s.collapse(ctx); err != nil {
			return nil, Report{}, err
		}
		coarse, origin := s.result()
		if len(coarse.Tris) >= len(m.Tris) {
			break
		}
		p := proof{fine: fineTree, coarse: bvh.Build(coarse), limitMM: limitMM}
		if err := p.run(ctx); err != nil {
			return nil, Report{}, err
		}
		if len(p.failedFine)+len(p.failedCoarse) == 0 && noWorse(mesh.Inspect(fine), mesh.Inspect(coarse)) {
			r.After, r.BoundMM, r.SeenMM = len(coarse.Tris), deviationMM, p.seenMM
			return coarse, r, nil
		}
		s.keep(&p, origin, kept)
		shareMM *= nextShare
	}
	return m, r, ctx.Err()
}

// noWorse reports whether the coarse mesh is as sound as the fine one.
func noWorse(fine, coarse mesh.Health) bool {
	return coarse.Closed == fine.Closed && coarse.NonManifoldEdges <= fine.NonManifoldEdges &&
		coarse.Degenerate <= fine.Degenerate && coarse.Duplicate <= fine.Duplicate && coarse.Flipped <= fine.Flipped
}
