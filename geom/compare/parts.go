package compare

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/scene"
)

// sameMM is how far two surfaces may differ and still be one: far below what a
// mesh file can hold, far above rounding.
const sameMM = 1e-6

// stays tells of a part that is there before and now whether anything of its
// shape or place differs.
type stays struct{ shape, place bool }

// compareParts fills in the parts and returns, by name, what stays of those
// that are there before and now.
func compareParts(ctx context.Context, old, now *scene.Scene, r *Result) (map[string]stays, error) {
	kept := map[string]stays{}
	for i := range old.Parts {
		p := &old.Parts[i]
		if _, ok := now.Index(p.Name); !ok {
			r.Parts.Removed = append(r.Parts.Removed, Part{p.Name, p.Role})
		}
	}
	for i := range now.Parts {
		n := &now.Parts[i]
		k, ok := old.Index(n.Name)
		if !ok {
			r.Parts.Added = append(r.Parts.Added, Part{n.Name, n.Role})
			continue
		}
		p := &old.Parts[k]
		s := stays{shape: sameShape(p, n), place: p.Pose == n.Pose}
		inFile := !s.shape && shifted(p, n)
		if !s.shape && !inFile {
			re, err := reshaped(ctx, p, n)
			if err != nil {
				return nil, err
			}
			if re.DeviationMM+re.ErrorMM <= sameMM {
				r.Parts.Rewritten = append(r.Parts.Rewritten, n.Name)
			} else {
				r.Parts.Reshaped = append(r.Parts.Reshaped, re)
			}
		}
		if !s.place || inFile {
			m := moveOf(p, n)
			m.InFile = inFile
			r.Parts.Moved = append(r.Parts.Moved, m)
		}
		if s.shape && s.place {
			r.Parts.Same++
		}
		kept[n.Name] = s
	}
	slices.SortStableFunc(r.Parts.Moved, func(a, b Move) int { return larger(a.MostMM, b.MostMM) })
	slices.SortStableFunc(r.Parts.Reshaped, func(a, b Reshape) int { return larger(a.DeviationMM, b.DeviationMM) })
	return kept, nil
}

// larger orders the larger figure first.
func larger(aMM, bMM float64) int {
	switch {
	case aMM > bMM:
		return -1
	case aMM < bMM:
		return 1
	}
	return 0
}

// sameShape reports whether two parts have the same triangles.
func sameShape(p, n *scene.Part) bool {
	return p.Mesh == n.Mesh || slices.Equal(p.Mesh.Verts, n.Mesh.Verts) && slices.Equal(p.Mesh.Tris, n.Mesh.Tris)
}

func reshaped(ctx context.Context, p, n *scene.Part) (Reshape, error) {
	re := Reshape{Name: n.Name}
	var err error
	if re.Grown, err = From(ctx, n.Mesh, p.Tree); err != nil {
		return re, err
	}
	if re.Shrunk, err = From(ctx, p.Mesh, n.Tree); err != nil {
		return re, err
	}
	re.DeviationMM = math.Max(re.Grown.MM, re.Shrunk.MM)
	re.ErrorMM = math.Max(re.Grown.MM+re.Grown.ErrorMM, re.Shrunk.MM+re.Shrunk.ErrorMM) - re.DeviationMM
	if p.Closed && n.Closed {
		by := n.Measures.VolumeMM3 - p.Measures.VolumeMM3
		re.VolumeMM3 = &by
	}
	return re, nil
}

// asWrittenMM is how far the corners of one shape written at two places may
// differ: half the step of the 32-bit numbers of a mesh file at 8 m, both ways.
const asWrittenMM = 1e-3

// shifted reports whether two meshes are one shape at two places: the same
// triangles, all corners gone the same way.
func shifted(p, n *scene.Part) bool {
	if len(p.Mesh.Verts) != len(n.Mesh.Verts) || len(p.Mesh.Verts) == 0 || !slices.Equal(p.Mesh.Tris, n.Mesh.Tris) {
		return false
	}
	way := n.Mesh.Verts[0].Sub(p.Mesh.Verts[0])
	for i, v := range n.Mesh.Verts {
		if v.Sub(p.Mesh.Verts[i]).Sub(way).Len() > asWrittenMM {
			return false
		}
	}
	return true
}

// moveOf measures the move of a part that has kept its triangles, or else of
// its mesh as it is now.
func moveOf(p, n *scene.Part) Move {
	was := p.Mesh
	if len(was.Verts) != len(n.Mesh.Verts) || !shifted(p, n) {
		was = n.Mesh
	}
	from, to := was.Box(), n.Mesh.Box()
	turn := n.Pose.R.Mul3(p.Pose.R.Transpose())
	skew := geom.Vec{turn.At(2, 1) - turn.At(1, 2), turn.At(0, 2) - turn.At(2, 0), turn.At(1, 0) - turn.At(0, 1)}
	turnRad := math.Atan2(skew.Len(), turn.Trace()-1) // sure near 0 as well as near a half turn
	return Move{
		Name: n.Name, ShiftMM: n.Pose.Point(to.Min.Add(to.Max).Mul(0.5)).Sub(p.Pose.Point(from.Min.Add(from.Max).Mul(0.5))),
		TurnDeg: turnRad * 180 / math.Pi, MostMM: moved(was, n.Mesh, p.Pose, n.Pose),
	}
}

// Offsets returns for each facet of the part's mesh how far the furthest of its
// corners lies off the part as it was, in the part's frame: the colours of a
// change of shape.
func Offsets(p *scene.Part, was *bvh.Tree) []float32 {
	corners := make([]float32, len(p.Mesh.Verts))
	for i, v := range p.Mesh.Verts {
		if near, ok := was.Nearest(v, math.Inf(1)); ok {
			corners[i] = float32(near.DistMM)
		}
	}
	out := make([]float32, len(p.Mesh.Tris))
	for t, tri := range p.Mesh.Tris {
		out[t] = max(corners[tri[0]], corners[tri[1]], corners[tri[2]])
	}
	return out
}
