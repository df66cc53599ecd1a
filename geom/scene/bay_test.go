package scene_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// TestBay builds the invented bay of testdata: facet counts and closedness are
// those its list states.
func TestBay(t *testing.T) {
	const bay = "../../testdata/meshes/bay_20k"
	text, err := os.ReadFile(filepath.Join(bay, "scene.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list struct {
		Triangles int
		Parts     []struct {
			Name, Role, File string
			Pose             [12]float64 // three rows: a turn and a shift
			Closed           bool
			Triangles        int
		}
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	doc := &layout.Document{Format: layout.Format, Version: layout.Version, Title: "bay"}
	for _, p := range list.Parts {
		doc.Parts = append(doc.Parts, layout.Part{
			Name: p.Name, Role: p.Role, Mesh: "meshes/" + p.File, MoveMM: geom.Vec{p.Pose[3], p.Pose[7], p.Pose[11]},
		})
	}
	dir := t.TempDir()
	for _, rel := range doc.Files() {
		data, err := os.ReadFile(filepath.Join(bay, filepath.Base(rel)))
		if err != nil {
			t.Fatal(err)
		}
		write(t, dir, rel, data)
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	doc, folder := open(t, dir)
	s := build(t, doc, folder, nil)
	sum := 0
	for i := range s.Parts {
		p, want := &s.Parts[i], list.Parts[i]
		sum += len(p.AsRead.Tris)
		if p.Closed != want.Closed || len(p.AsRead.Tris) != want.Triangles {
			t.Errorf("%s: closed %v, %d facets; want %v, %d (%q)", p.Name, p.Closed, len(p.AsRead.Tris), want.Closed, want.Triangles, p.Said)
		}
	}
	if sum != list.Triangles {
		t.Errorf("%d facets, want %d", sum, list.Triangles)
	}
}
