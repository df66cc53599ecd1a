package rearview

import (
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

// block returns a closed box.
func block(lo, hi geom.Vec) *mesh.Mesh {
	c := geom.EmptyBox().Grow(lo).Grow(hi).Corners()
	return &mesh.Mesh{Verts: c[:], Tris: [][3]int32{
		{0, 2, 1},
		{1, 2, 3},
		{4, 5, 6},
		{5, 7, 6},
		{0, 1, 4},
		{1, 5, 4},
		{2, 6, 3},
		{3, 6, 7},
		{0, 4, 2},
		{2, 4, 6},
		{1, 3, 5},
		{3, 7, 5},
	}}
}

// piece is one part of a small scene.
type piece struct {
	name, role string
	mesh       *mesh.Mesh
}

// build makes a scene of pieces and a view.
func build(t testing.TB, view *layout.RearView, pieces ...piece) *scene.Scene {
	t.Helper()
	doc := &layout.Document{RearView: view}
	meshes := map[string]*mesh.Mesh{}
	for _, p := range pieces {
		if p.role == "" {
			p.role = "body"
		}
		doc.Parts = append(doc.Parts, layout.Part{Name: p.name, Role: p.role, Mesh: p.name + ".stl"})
		meshes[p.name+".stl"] = p.mesh
	}
	return fixture.Scene(t, doc, meshes)
}

// flatMirror is the arrangement of the published cases: the image eyes stand at
// x = 462, z = 1210, 65 mm apart across the car; the eyes behind them at 1500,
// seen in a mirror square to X and large enough not to matter.
func flatMirror() *layout.RearView {
	return &layout.RearView{
		EyesMM: []geom.Vec{{1500, -32.5, 1210}, {1500, 32.5, 1210}},
		Mirror: &layout.Mirror{CentreMM: geom.Vec{981, 0, 1210}, WidthMM: 5000, HeightMM: 2000, Normal: &geom.Vec{1, 0, 0}},
	}
}

// answer runs the study.
func answer(t testing.TB, sc *scene.Scene) *Result {
	t.Helper()
	r, err := Run(t.Context(), sc, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
