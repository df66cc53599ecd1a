package desk

import (
	"context"
	"os"
	"strings"
	"testing"

	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene/fixture"
)

// TestFaultyMeshesAreShown: the bodies and what is wrong with them are those of
// testdata/meshes, damaged on purpose; see health_test.go of geom/mesh.
func TestFaultyMeshesAreShown(t *testing.T) {
	doc, meshes := &layout.Document{}, map[string]*mesh.Mesh{}
	for _, name := range []string{"bad_holes", "bad_self_cross", "bad_duplicate", "torus_a"} {
		data, err := os.ReadFile("../../testdata/meshes/shapes_open/" + name + ".stl")
		if err != nil {
			t.Fatal(err)
		}
		m, err := mesh.ReadSTL(data)
		if err != nil {
			t.Fatal(err)
		}
		meshes[name+".stl"] = m
		doc.Parts = append(doc.Parts, layout.Part{Name: name, Role: "x", Mesh: name + ".stl"})
	}
	d := New(2, nil)
	defer d.Close()
	if err := d.Open(context.Background(), fixture.Folder(t, doc, meshes)); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	s := d.State()
	known := s.Answers.known()
	torus, _ := s.Scene.Index("torus_a")
	crossed, _ := s.Scene.Index("bad_self_cross")
	if len(known) != 4 || known[s.Scene.Parts[torus].Mesh].SelfCrossings != 0 || known[s.Scene.Parts[crossed].Mesh].SelfCrossings == 0 {
		t.Fatalf("crossings not told apart: %v", known)
	}
	if rows := PartRows(&s, &Attention{}, "faulty"); len(rows) != 3 {
		t.Errorf("%d parts are listed as faulty, want 3", len(rows))
	}
	for _, c := range []struct{ part, fact, note string }{
		{"bad_holes", "170 open edges", "o: open edges, 170 (60 marked)"},
		{"bad_self_cross", "pairs of facets that cross", "x: pairs of facets that cross"},
		{"bad_duplicate", "that stood twice", "t: facets that stood twice"},
		{"torus_a", "mesh is sound", "torus_a: mesh is sound"},
	} {
		text, _ := PartTextOf(&s, c.part)
		if !strings.Contains(strings.Join(text.Facts, " · "), c.fact) || text.Faulty == (c.part == "torus_a") {
			t.Errorf("%s: %v, faulty %v; want %q", c.part, text.Facts, text.Faulty, c.fact)
		}
		picture := NewPainter().Picture(&s, &Attention{Selected: []string{c.part}, Faults: true})
		if !strings.Contains(picture.Note, c.note) || (len(picture.Overlay.Markers) == 0) != (c.part == "torus_a") {
			t.Errorf("%s: picture says %q with %d marks", c.part, picture.Note, len(picture.Overlay.Markers))
		}
	}
}
