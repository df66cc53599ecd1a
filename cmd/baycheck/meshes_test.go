package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// TestMeshesAreWritten: mended, in millimetres, binary or as text, once for a
// file of two parts; what is there already is left alone.
func TestMeshesAreWritten(t *testing.T) {
	box := plain.Brick(geom.Vec{}, geom.Vec{1, 2, 3})
	box.Tris = append(box.Tris, box.Tris[0]) // a facet that stands twice
	dir := fixture.Folder(t, &layout.Document{Parts: []layout.Part{
		{Name: "a", Role: "x", Mesh: "a.stl", MeshUnit: "cm"},
		{Name: "b", Role: "x", Mesh: "a.stl", MeshUnit: "cm"},
		{Name: "c", Role: "x", Mesh: "a.stl"},
	}}, map[string]*mesh.Mesh{"a.stl": box})
	for _, flags := range [][]string{nil, {"--ascii"}} {
		out := filepath.Join(t.TempDir(), "out")
		args := append([]string{"inspect", dir, "--quiet", "--stl", out}, flags...)
		if code, _, errs := do(t, args...); code != exitFine {
			t.Fatalf("exit %d: %s", code, errs)
		}
		data, err := os.ReadFile(filepath.Join(out, "a.stl"))
		if err != nil {
			t.Fatal(err)
		}
		m, err := mesh.ReadSTL(data)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(string(data), "solid") != (flags != nil) || len(m.Tris) != 12 || m.Box().Max != (geom.Vec{10, 20, 30}) {
			t.Errorf("%v: %d facets up to %v", flags, len(m.Tris), m.Box().Max)
		}
		if files, _ := os.ReadDir(out); len(files) != 2 || files[0].Name() != "a-2.stl" {
			t.Errorf("%v: %d files", flags, len(files))
		}
		if code, _, errs := do(t, args...); code != exitRefused || !strings.Contains(errs, "is there already") {
			t.Errorf("again: exit %d, %q", code, errs)
		}
	}
}
