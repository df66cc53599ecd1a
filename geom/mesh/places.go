package mesh

import "aftbay/geom"

// FaultKind says what is wrong at one place of a mesh.
type FaultKind int

// Kinds of fault, each counted in full by the field of Health of that name.
const (
	OpenEdge FaultKind = iota
	NonManifoldEdge
	Degenerate
	Duplicate
	Flipped
)

// String returns the kind in words.
func (k FaultKind) String() string {
	if int(k) < len(kindWords) {
		return kindWords[k]
	}
	return "unknown fault"
}

// kindWords are the kinds in words. Read-only.
var kindWords = [...]string{
	OpenEdge: "open edge", NonManifoldEdge: "edge of more than two facets", Degenerate: "facet without area",
	Duplicate: "facet that stands twice", Flipped: "facet that faces the wrong way",
}

// MaxFaults is the largest number of places Faults gives of one kind: more
// than an eye can follow on a picture.
const MaxFaults = 200

// Fault is one place where something is wrong.
type Fault struct {
	Kind FaultKind
	Tri  int      // the facet, of an edge the first that uses it
	At   geom.Vec // middle of the edge or of the facet, part frame
	Edge [2]int32 // corners of the edge; both 0 for a fault of a facet
}

// Faults returns where m is not sound: the first MaxFaults places of each kind,
// kind by kind, edges by rising corner indices, facets in file order. Inspect
// counts them in full. Cost: that of Inspect.
func Faults(m *Mesh) []Fault {
	f := survey(m)
	var open, crowded []Fault
	f.edges.each(func(e edge) {
		fault := Fault{
			Tri:  int(e.uses[0].tri),
			At:   m.Verts[e.a].Add(m.Verts[e.b]).Mul(0.5),
			Edge: [2]int32{e.a, e.b},
		}
		switch {
		case len(e.uses) == 1 && len(open) < MaxFaults:
			fault.Kind = OpenEdge
			open = append(open, fault)
		case len(e.uses) > 2 && len(crowded) < MaxFaults:
			fault.Kind = NonManifoldEdge
			crowded = append(crowded, fault)
		}
	})
	all := append(open, crowded...)
	all = appendFacets(all, m, Degenerate, f.empty)
	all = appendFacets(all, m, Duplicate, f.repeated)
	return appendFacets(all, m, Flipped, f.turn)
}

// appendFacets adds a fault of the kind for each facet marked, up to MaxFaults.
func appendFacets(all []Fault, m *Mesh, kind FaultKind, marked []bool) []Fault {
	n := 0
	for t, wrong := range marked {
		if !wrong || n == MaxFaults {
			continue
		}
		n++
		a, b, c := m.Corners(t)
		all = append(all, Fault{Kind: kind, Tri: t, At: a.Add(b).Add(c).Mul(1.0 / 3)})
	}
	return all
}
