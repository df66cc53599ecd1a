package scene

import (
	"crypto/sha256"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/route"
	"aftbay/geom/say"
)

// Scene is a layout with its parts in place. It is read-only once made.
type Scene struct {
	Doc   *layout.Document
	Parts []Part // the document's parts, then its routes, in file order
	Spots []Component

	index     map[string]int               // part name -> index
	groups    map[string]*layout.Group     // group name -> its object
	positions map[string][]layout.Position // group name -> named load cases
	tables    map[string][]layout.Position // file of load cases -> its rows, for the next Build
	shapes    []*shape                     // one per mesh file and unit, for the next Build
}

// Part is one envelope in its place.
type Part struct {
	Index             int
	Name, Role, Group string
	Layout            *layout.Part  // of a route: what a part and a route have in common
	Route             *layout.Route // nil for a part with a mesh file
	Shape                           // part frame
	Pose              geom.Pose
	Box               geom.Box // posed
}

// Component is what a mounting spot is looked for: a mesh with its mounting
// face on z = 0.
type Component struct {
	Layout *layout.Spot
	Shape
}

// Shape is a mesh with all that is known of it, in its own frame. Parts that
// use the same file share what it points to.
type Shape struct {
	Mesh     *mesh.Mesh // mended, mm
	AsRead   *mesh.Mesh // before mending, mm; the same as Mesh if nothing was mended
	Tree     *bvh.Tree  // over Mesh
	Closed   bool       // whether Mesh bounds a solid
	Sheet    bool       // open, and no solid that lacks facets: see mesh.IsSheet
	Health   mesh.Health
	Measures mesh.Measures     // of Mesh
	Said     []say.Text        // what was tolerated and mended
	Hash     [sha256.Size]byte // of the mesh file; zero for a route
	Length   *route.Length     // of a route, else nil
	// Changed tells that the mesh file isn't what it was when the layout was
	// saved; nil if it is, or if nothing is remembered of it.
	Changed *layout.MeshChange
}

// Index returns the part of a name.
func (s *Scene) Index(name string) (int, bool) {
	i, ok := s.index[name]
	return i, ok
}

// partOf returns the part of a name, nil if there is none or no scene.
func (s *Scene) partOf(name string) *Part {
	if s == nil {
		return nil
	}
	if i, ok := s.index[name]; ok {
		return &s.Parts[i]
	}
	return nil
}

// Group returns the group of a name, nil if the layout describes none.
func (s *Scene) Group(name string) *layout.Group { return s.groups[name] }

// Positions returns the named load cases of a group: those of its table, then
// those of its loads, in file order.
func (s *Scene) Positions(group string) []layout.Position { return s.positions[group] }

// Moved returns the scene with all parts of a group moved by a pose in the
// vehicle frame. Meshes and trees are shared. Cost: the boxes of the group.
func (s *Scene) Moved(group string, by geom.Pose) *Scene {
	return s.posed(func(p *Part) (geom.Pose, bool) {
		return by.After(p.Pose), p.Group == group
	})
}

// Placed returns the scene with one part in another place. Meshes and trees
// are shared.
func (s *Scene) Placed(i int, pose geom.Pose) *Scene {
	return s.posed(func(p *Part) (geom.Pose, bool) { return pose, p.Index == i })
}

// posed returns the scene with new poses for the parts that choose names.
func (s *Scene) posed(choose func(p *Part) (geom.Pose, bool)) *Scene {
	moved := *s
	moved.Parts = append([]Part(nil), s.Parts...)
	for i := range moved.Parts {
		p := &moved.Parts[i]
		if pose, ok := choose(p); ok {
			p.Pose, p.Box = pose, posedBox(p.Mesh, pose)
		}
	}
	return &moved
}
