package scene

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/mesh"
)

// Fault is one place of a shape that is not what a mesh should be.
type Fault struct {
	Kind string      // in words, singular
	Tri  int         // the facet; of AsRead, for a crossing of Mesh
	At   geom.Vec    // part frame
	Edge [2]geom.Vec // ends of the edge at fault; equal for a fault of a facet
}

// Crossing is the kind of a place where a surface passes through itself.
const Crossing = "facet that crosses another"

// Soundness lists where a shape is not what a mesh should be: the first places
// of each kind, as mesh.Faults and dist.SelfCrossings give them. Health counts
// the kinds in full.
type Soundness struct {
	Places        []Fault
	SelfCrossings int // pairs of facets of Mesh that cross, in full
}

// Soundness looks for the faults of a shape. Error: the one of ctx. Cost: some
// microseconds a triangle.
func (s *Shape) Soundness(ctx context.Context) (Soundness, error) {
	count, crossings, err := dist.SelfCrossings(ctx, s.Tree)
	if err != nil {
		return Soundness{}, err
	}
	out := Soundness{SelfCrossings: count}
	for _, f := range mesh.Faults(s.AsRead) {
		out.Places = append(out.Places, Fault{
			Kind: f.Kind.String(), Tri: f.Tri, At: f.At,
			Edge: [2]geom.Vec{s.AsRead.Verts[f.Edge[0]], s.AsRead.Verts[f.Edge[1]]},
		})
	}
	for _, c := range crossings {
		out.Places = append(out.Places, Fault{Kind: Crossing, Tri: c.TriA, At: c.At})
	}
	return out, nil
}
