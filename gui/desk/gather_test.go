package desk

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout/gather"
	"aftbay/geom/mesh/plain"
)

func stlFile(t *testing.T, path string, sides geom.Vec) string {
	t.Helper()
	var buf bytes.Buffer
	must(t, plain.Brick(geom.Vec{}, sides).WriteSTL(&buf, "brick"))
	must(t, os.WriteFile(path, buf.Bytes(), 0o644))
	return path
}

func TestGatheredPartsAreOneEdit(t *testing.T) {
	dir, src := plainLayout(t), t.TempDir()
	d := atWork(t, dir, Ask)
	engine := stlFile(t, filepath.Join(src, "block.stl"), geom.Vec{600, 500, 400})
	coil := stlFile(t, filepath.Join(src, "ignition_coil.stl"), geom.Vec{110, 30, 30})
	inside := stlFile(t, filepath.Join(dir, "exhaust.stl"), geom.Vec{900, 300, 200})
	p, err := gather.Propose(t.Context(), []string{engine, coil, inside}, gather.Options{})
	must(t, err)
	must(t, d.AddGathered(t.Context(), p))
	s := d.State()
	var got []string
	for _, part := range s.Doc.Parts[3:] {
		got = append(got, part.Name+"/"+part.Role+"/"+part.Mesh)
	}
	if want := "block 2/engine/meshes/block.stl, ignition coil/coil/meshes/ignition_coil.stl, exhaust/exhaust/exhaust.stl"; strings.Join(got, ", ") != want {
		t.Errorf("added %q", got)
	}
	if s.Undo != "add block 2 and 2 more" || s.Scene.Parts[3].Box.Size()[0] != 600 {
		t.Errorf("undo %q", s.Undo)
	}
	must(t, d.AddGathered(t.Context(), p))
	if n := len(d.State().Doc.Parts); n != 9 {
		t.Errorf("%d parts after adding again", n)
	}
	must(t, d.Undo())
	must(t, d.Undo())
	if n := len(d.State().Doc.Parts); n != 3 {
		t.Errorf("%d parts after undo", n)
	}
	if size := GatheredSize(&p.Parts[0]); size != "600.00 × 500.00 × 400.00 mm" {
		t.Errorf("size %q", size)
	}
	if why, doubt := GatheredWhy(&p.Parts[1]); doubt || !strings.Contains(why, "Role: ") || !strings.Contains(why, "Unit: largest side") {
		t.Errorf("why %q, doubt %v", why, doubt)
	}
}

func TestGatherable(t *testing.T) {
	dir, src := plainLayout(t), t.TempDir()
	stl := stlFile(t, filepath.Join(src, "a.STL"), geom.Vec{1, 1, 1})
	for _, c := range []struct {
		paths []string
		want  bool
	}{
		{nil, false},
		{[]string{stl}, true},
		{[]string{stl, stl}, true},
		{[]string{src}, true},
		{[]string{dir}, false}, // a layout
		{[]string{src, stl}, false},
		{[]string{filepath.Join(dir, "layout.json")}, false},
		{[]string{filepath.Join(src, "gone.stl")}, false},
	} {
		if got := Gatherable(c.paths); got != c.want {
			t.Errorf("%v: %v", c.paths, got)
		}
	}
}
