package spot

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// block is a closed box of a fixture.
type block struct {
	name, role, group string
	low, high         geom.Vec
	change            func(*layout.Part)
}

// boxMesh returns a closed box with outward winding.
func boxMesh(low, high geom.Vec) *mesh.Mesh {
	c := geom.Box{Min: low, Max: high}.Corners()
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

// The component of the fixtures: 40 long, 30 wide, 25 high.
const lengthMM, widthMM, heightMM = 40.0, 30.0, 25.0

func componentMesh() *mesh.Mesh {
	return boxMesh(geom.Vec{-lengthMM / 2, -widthMM / 2, 0}, geom.Vec{lengthMM / 2, widthMM / 2, heightMM})
}

func save(t testing.TB, path string, m *mesh.Mesh) {
	t.Helper()
	var out bytes.Buffer
	if err := m.WriteSTL(&out, "fixture"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// stage builds a scene of blocks and one spots entry on the hosts named plate.
func stage(t testing.TB, blocks []block, change func(*layout.Document)) *scene.Scene {
	t.Helper()
	dir := t.TempDir()
	doc := &layout.Document{Title: "fixture"}
	for _, b := range blocks {
		file := b.name + ".stl"
		save(t, filepath.Join(dir, file), boxMesh(b.low, b.high))
		p := layout.Part{Name: b.name, Role: b.role, Group: b.group, Mesh: file}
		if b.change != nil {
			b.change(&p)
		}
		doc.Parts = append(doc.Parts, p)
	}
	save(t, filepath.Join(dir, "component.stl"), componentMesh())
	doc.Spots = []layout.Spot{{Name: "box", Role: "coil", Mesh: "component.stl", Hosts: []string{"part:plate"}}}
	if change != nil {
		change(doc)
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	s, err := scene.Build(t.Context(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plate is the host of most fixtures: its top at z = 10, its bottom at z = 0.
func plate() block {
	return block{name: "plate", role: "engine", low: geom.Vec{0, 0, 0}, high: geom.Vec{400, 300, 10}}
}

// lids are two slabs beyond both faces of the plate, at a distance from them.
func lids(apartMM float64) []block {
	return []block{
		{name: "lid", role: "bracket", low: geom.Vec{-100, -100, 10 + apartMM}, high: geom.Vec{500, 400, 20 + apartMM}},
		{name: "floor", role: "bracket", low: geom.Vec{-100, -100, -10 - apartMM}, high: geom.Vec{500, 400, -apartMM}},
	}
}

// search runs the whole search, with heat where the layout has cases.
func search(t testing.TB, s *scene.Scene, o Options) *Result {
	t.Helper()
	var heat *balance.Result
	if s.Doc.Heat != nil {
		var err error
		if heat, err = balance.Run(t.Context(), s, balance.Options{Workers: o.Workers}, nil); err != nil {
			t.Fatal(err)
		}
	}
	r, err := Search(t.Context(), s, heat, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// studyOf prepares the first entry for tests of single places.
func studyOf(t testing.TB, s *scene.Scene, heat *balance.Result) *study {
	t.Helper()
	guests, err := clearance.NewGuests(context.Background(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	st, err := newStudy(s, 0, heat, guests, Options{Seed: 1, PointsPerHost: 10, Most: 5})
	if err != nil {
		t.Fatal(err)
	}
	if err := st.layField(t.Context()); err != nil {
		t.Fatal(err)
	}
	return st
}

// onTop returns a place on the plate's top.
func onTop(xMM, yMM float64) place {
	return place{host: 0, point: geom.Vec{xMM, yMM, 10}, normal: geom.Vec{0, 0, 1}}
}
