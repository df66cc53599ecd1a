package layout

import (
	"errors"
	"path/filepath"
	"testing"
)

func TestAddWritesNewFilesOnly(t *testing.T) {
	dir, doc := sampleFolder(t)
	_, f := opened(t, dir)
	if err := f.Add("meshes/more/b.stl", []byte("mesh b")); err != nil {
		t.Fatal(err)
	}
	if got := slurp(t, filepath.Join(dir, "meshes", "more", "b.stl")); got != "mesh b" {
		t.Errorf("written: %q", got)
	}
	for _, bad := range []string{"meshes/a.stl", "../b.stl", "/b.stl", "", "a\\b.stl"} {
		var fault Fault
		if err := f.Add(bad, []byte("x")); !errors.As(err, &fault) || fault.Mend == "" {
			t.Errorf("%q: %v", bad, err)
		}
	}
	if got := slurp(t, filepath.Join(dir, "meshes", "a.stl")); got != "mesh a" {
		t.Errorf("the old file holds %q", got)
	}
	packed := filepath.Join(t.TempDir(), "sample.aftbay")
	if err := SaveAs(packed, doc, f); err != nil {
		t.Fatal(err)
	}
	_, p := opened(t, packed)
	var fault Fault
	if err := p.Add("meshes/b.stl", []byte("x")); !errors.As(err, &fault) || fault.Where != packed {
		t.Errorf("into a packed file: %v", err)
	}
}
