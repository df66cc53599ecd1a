package demo

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom/layout"
	"aftbay/geom/mesh"
)

// Every envelope is a clean solid, wound outward, save the open heat shield.
func TestMeshesAreCleanSolids(t *testing.T) {
	for _, v := range Variants() {
		c, err := build(v)
		if err != nil {
			t.Fatal(err)
		}
		triangles := 0
		for _, f := range c.files {
			h := mesh.Inspect(f.mesh)
			triangles += len(f.mesh.Tris)
			sound := h.NonManifoldEdges == 0 && h.Degenerate == 0 && h.Duplicate == 0 && h.Flipped == 0
			if !sound || h.Closed == (f.path == "meshes/heat_shield.stl") {
				t.Errorf("%s: %s: %+v", v, f.path, h)
			}
			if h.Closed && mesh.Measure(f.mesh).VolumeMM3 <= 0 {
				t.Errorf("%s: %s is inside out", v, f.path)
			}
		}
		t.Logf("%s: %d parts, %d triangles", v, len(c.doc.Parts), triangles)
		if triangles < 10000 || triangles > 40000 {
			t.Errorf("%s: %d triangles", v, triangles)
		}
	}
}

// TestWriteMakesALayout that comes back byte for byte when it is read and
// written again, and whose meshes are remembered.
func TestWriteMakesALayout(t *testing.T) {
	for _, v := range append(Variants(), "") {
		dir := t.TempDir()
		if err := Write(dir, v); err != nil {
			t.Error(err)
		}
		before, err := os.ReadFile(filepath.Join(dir, layout.FileName))
		if err != nil {
			t.Fatal(err)
		}
		doc, folder, err := layout.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		after, err := layout.Encode(doc)
		if err != nil || !bytes.Equal(before, after) {
			t.Errorf("%q: read and written, it differs: %v", v, err)
		}
		changed, err := folder.Changed(doc)
		if err := errors.Join(err, folder.MemoryFault(), folder.Close()); err != nil || len(changed) > 0 {
			t.Errorf("%q: %v, %v", v, changed, err)
		}
		if _, err := os.Stat(filepath.Join(dir, layout.MeshesName)); err != nil {
			t.Error(err)
		}
	}
}

// TestNoLayoutIsWrittenOver: an older demo is, somebody's own layout is not.
func TestNoLayoutIsWrittenOver(t *testing.T) {
	dir := t.TempDir()
	for _, v := range Variants() {
		if err := Write(dir, v); err != nil {
			t.Fatal(err)
		}
	}
	own, err := layout.Encode(&layout.Document{Title: "mine"})
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{string(own), "{", ""} {
		dir := t.TempDir()
		file := filepath.Join(dir, layout.FileName)
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		err := Write(dir, BrambleB)
		if err == nil || !strings.Contains(err.Error(), "another layout stands there; name a new folder") {
			t.Errorf("%q: %v", text, err)
		}
		if data, err := os.ReadFile(file); err != nil || string(data) != text {
			t.Errorf("%q became %q, %v", text, data, err)
		}
	}
}
