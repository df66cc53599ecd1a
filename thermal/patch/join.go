package patch

import (
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// joined puts bodies that were cut by themselves into one set, in their order.
func joined(bodies []Body, alone []Set) *Set {
	s := &Set{Mesh: &mesh.Mesh{}, EdgesMM: make([]float64, len(bodies))}
	tris, patches := 0, 0
	for i := range alone {
		tris, patches = tris+len(alone[i].Mesh.Tris), patches+len(alone[i].Patches)
	}
	s.Mesh.Tris, s.TriM2 = make([][3]int32, 0, tris), make([]float64, 0, tris)
	for _, list := range []*[]int32{&s.OuterOf, &s.InnerOf, &s.PartOf, &s.SourceOf} {
		*list = make([]int32, 0, tris)
	}
	s.Patches = make([]Patch, 0, patches)
	for i := range alone {
		s.FirstOf = append(s.FirstOf, len(s.Mesh.Tris))
		if len(alone[i].EdgesMM) == 0 {
			continue // it takes no part
		}
		s.EdgesMM[i] = alone[i].EdgesMM[0]
		if bodies[i].Closed {
			s.Solids = append(s.Solids, solidOf(bodies[i], alone[i].Mesh))
		}
		s.append(&alone[i])
	}
	s.FirstOf = append(s.FirstOf, len(s.Mesh.Tris))
	return s
}

// append adds a set of one body, numbered on.
func (s *Set) append(one *Set) {
	verts, tris, patches := int32(len(s.Mesh.Verts)), int32(len(s.Mesh.Tris)), int32(len(s.Patches))
	on := func(list []int32, by int32) {
		for i := range list {
			if list[i] >= 0 {
				list[i] += by
			}
		}
	}
	for _, t := range one.Mesh.Tris {
		s.Mesh.Tris = append(s.Mesh.Tris, [3]int32{t[0] + verts, t[1] + verts, t[2] + verts})
	}
	on(one.OuterOf, patches)
	on(one.InnerOf, patches)
	shared := map[*int32]bool{} // both sides of a sheet may share their lists
	for i := range one.Patches {
		p := &one.Patches[i]
		p.Block += s.Blocks
		if len(p.Tris) > 0 && !shared[&p.Tris[0]] {
			shared[&p.Tris[0]] = true
			on(p.Tris, tris)
		}
	}
	s.Mesh.Verts = append(s.Mesh.Verts, one.Mesh.Verts...)
	s.Patches = append(s.Patches, one.Patches...)
	s.OuterOf, s.InnerOf = append(s.OuterOf, one.OuterOf...), append(s.InnerOf, one.InnerOf...)
	s.PartOf, s.SourceOf = append(s.PartOf, one.PartOf...), append(s.SourceOf, one.SourceOf...)
	s.TriM2 = append(s.TriM2, one.TriM2...)
	s.Blocks += one.Blocks
}

// solidOf returns a closed body as it stands; posed is its surface in the
// vehicle frame.
func solidOf(b Body, posed *mesh.Mesh) Solid {
	s := Solid{Tree: b.Tree, Part: b.Pose.Inverse(), Box: posed.Box()}
	if s.Tree == nil {
		s.Tree = bvh.Build(b.Mesh)
	}
	return s
}
