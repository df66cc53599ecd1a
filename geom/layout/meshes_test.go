package layout

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// saved makes a folder whose meshes are remembered.
func saved(t *testing.T) (string, *Document) {
	t.Helper()
	dir, doc := sampleFolder(t)
	_, f := opened(t, dir)
	if err := SaveAs(dir, doc, f); err != nil {
		t.Fatal(err)
	}
	return dir, doc
}

// TestMemoryFile: the sum is that of sha256sum for the text "mesh a".
func TestMemoryFile(t *testing.T) {
	dir, _ := saved(t)
	want := `{
  "format": "aftbay-meshes",
  "version": 1,
  "files": {
    "meshes/a.stl": {"bytes": 6, "sha256": "SUM"}
  }
}
`
	want = strings.Replace(want, "SUM", "94ce84abdc54e879546feca58c7fe29c0892391125e8d9e15896d88f7b639882", 1)
	if got := slurp(t, filepath.Join(dir, MeshesName)); got != want {
		t.Errorf("got\n%s", got)
	}
}

func changes(t *testing.T, f *Folder, doc *Document) []*MeshChange {
	t.Helper()
	list, err := f.Changed(doc)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// TestChangedMesh: a changed mesh is noticed when the layout is opened, stays
// noticed through saves and copies, and is quiet once it is accepted.
func TestChangedMesh(t *testing.T) {
	dir, doc := saved(t)
	if _, f := opened(t, dir); len(changes(t, f, doc)) > 0 || f.MemoryFault() != nil {
		t.Error("unchanged and not quiet")
	}
	packed := filepath.Join(t.TempDir(), "p.aftbay")
	for _, c := range []struct{ text, want string }{
		{"mesh B", "meshes/a.stl has changed since the layout was saved (the same size, other content): accept it, or put the old file back"},
		{"mesh b, longer", "(6 bytes then, 14 now)"},
	} {
		put(t, filepath.Join(dir, "meshes", "a.stl"), c.text)
		_, f := opened(t, dir)
		if err := errors.Join(SaveAs(dir, doc, f), SaveAs(packed, doc, f)); err != nil {
			t.Fatal(err)
		}
		for _, path := range []string{dir, packed} {
			_, f := opened(t, path)
			list := changes(t, f, doc)
			if len(list) != 1 || !strings.Contains(list[0].Sentence().String(), c.want) {
				t.Errorf("%s: %v", path, list)
			}
		}
	}
	_, f := opened(t, dir)
	if err := f.AcceptMeshes(doc, "meshes/a.stl"); err != nil || len(changes(t, f, doc)) > 0 {
		t.Errorf("accepted: %v, %v", err, changes(t, f, doc))
	}
	if _, f := opened(t, dir); len(changes(t, f, doc)) > 0 {
		t.Error("accepted, and forgotten on disk")
	}
	_, p := opened(t, packed)
	if err := errors.Join(p.AcceptMeshes(doc), SaveAs(packed, doc, p)); err != nil {
		t.Fatal(err)
	}
	if _, p := opened(t, packed); len(changes(t, p, doc)) > 0 {
		t.Error("accepted in a packed layout, and forgotten")
	}
}

// TestPrintsAreKept: a file is read once, and again when it has changed.
func TestPrintsAreKept(t *testing.T) {
	dir, doc := saved(t)
	_, f := opened(t, dir)
	if _, _, err := f.ReadPrinted("meshes/a.stl"); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "meshes", "a.stl")
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	put(t, path, "MESH A") // size and time as before: not looked at again
	if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil || len(changes(t, f, doc)) > 0 {
		t.Errorf("read again: %v", err)
	}
	if err := os.Chtimes(path, time.Time{}, info.ModTime().Add(time.Second)); err != nil || len(changes(t, f, doc)) != 1 {
		t.Errorf("not read again: %v", err)
	}
}

// TestMemoryIsNoObstacle: a layout opens and is saved whatever stands in
// MeshesName, and when a mesh is gone.
func TestMemoryIsNoObstacle(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "meshes.json: not readable: EOF; remove the file; the next save writes it anew"},
		{"{", "not readable: unexpected EOF"},
		{"[]", "not readable"},
		{`{"format":"x","version":1}`, `format "x" version 1 isn't what this program reads`},
		{`{"format":"aftbay-meshes","version":2}`, `version 2 isn't what this program reads`},
		{`{"format":"aftbay-meshes","version":1,"file":{}}`, `unknown field "file"`},
		{`{"format":"aftbay-meshes","version":1,"files":{"a":{"bytes":1,"sha256":"00"}}}`, "a: sha256 is no 64 hexadecimal digits"},
		{`{"format":"aftbay-meshes","version":1,"files":{"a":{"bytes":1,"sha256":"` + strings.Repeat("0", 66) + `"}}}`, "a: sha256 is no 64 hexadecimal digits"},
		{`{"format":"aftbay-meshes","version":1,"files":{"a":{"bytes":1,"sha256":"` + strings.Repeat("x", 64) + `"}}}`, "a: sha256 is no 64 hexadecimal digits"},
		{strings.Repeat(" ", maxMeshesBytes+1), "the file has 4194305 bytes, more than the 4194304 that are read"},
	} {
		dir, doc := saved(t)
		put(t, filepath.Join(dir, MeshesName), c.text)
		if err := os.Remove(filepath.Join(dir, "meshes", "a.stl")); err != nil {
			t.Fatal(err)
		}
		_, f := opened(t, dir)
		if err := f.MemoryFault(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %s", err, c.want)
		}
		doc.Title = "saved"
		if err := SaveAs(dir, doc, f); err != nil {
			t.Errorf("%s: %v", c.want, err)
		}
		if again, _ := opened(t, dir); again.Title != "saved" {
			t.Errorf("%s: not saved", c.want)
		}
	}
}

func FuzzMemory(f *testing.F) {
	f.Add([]byte(`{"format":"aftbay-meshes","version":1,"files":{"meshes/a.stl":{"bytes":6,"sha256":"` + strings.Repeat("0f", 32) + `"},"é\u2028":{"bytes":0,"sha256":"` + strings.Repeat("00", 32) + `"}}}`))
	f.Add([]byte(`{}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := readMemory(data)
		if err != nil {
			return
		}
		first, err := m.encode()
		if err != nil {
			t.Fatal(err)
		}
		again, err := readMemory(first)
		if err != nil {
			t.Fatalf("own output refused: %v\n%s", err, first)
		}
		if second, err := again.encode(); err != nil || !bytes.Equal(first, second) || len(again) != len(m) {
			t.Fatalf("not stable: %v\n%s\n%s", err, first, second)
		}
	})
}
