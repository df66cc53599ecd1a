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
		if err := f.Add(bad, []byte("x")); !errors.As(err, &fault) || fault.Mend.IsZero() {
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
	packedTakesNewFiles(t, packed)
}

// packedTakesNewFiles: they are on the disk at once, beside all that was there,
// and a save, an undo and a later file lose none of them while it is open.
func packedTakesNewFiles(t *testing.T, packed string) {
	t.Helper()
	doc, p := opened(t, packed)
	for _, rel := range []string{"meshes/b.stl", "meshes/c.stl"} {
		if err := p.Add(rel, []byte(rel)); err != nil {
			t.Fatal(err)
		}
		if got, err := p.ReadFile(rel); err != nil || string(got) != rel {
			t.Errorf("%s holds %q, %v", rel, got, err)
		}
		if err := SaveAs(packed, doc, p); err != nil { // the document does not name it
			t.Fatal(err)
		}
	}
	if got, err := p.ReadFile("meshes/b.stl"); err != nil || string(got) != "meshes/b.stl" {
		t.Errorf("after a save: %q, %v", got, err)
	}
	if err := p.Add("meshes/d.stl", []byte("d")); err != nil {
		t.Fatal(err)
	}
	_, again := opened(t, packed)
	for rel, want := range map[string]string{"meshes/a.stl": "mesh a", "meshes/d.stl": "d"} {
		if got, err := again.ReadFile(rel); err != nil || string(got) != want {
			t.Errorf("%s holds %q, %v", rel, got, err)
		}
	}
	for _, bad := range []string{"meshes/a.stl", "meshes/b.stl", "meshes/D.stl", "../b.stl"} {
		var fault Fault
		if err := p.Add(bad, []byte("x")); !errors.As(err, &fault) || fault.Mend.IsZero() {
			t.Errorf("%q: %v", bad, err)
		}
	}
}
