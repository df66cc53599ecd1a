package revision

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/disk"
	"aftbay/geom/disk/faulty"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
)

var day = time.Date(2027, 1, 31, 9, 0, 0, 0, time.UTC) // Read-only.

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func brick(t *testing.T, path string, heightMM float64) {
	t.Helper()
	var buf bytes.Buffer
	must(t, plain.Brick(geom.Vec{}, geom.Vec{100, 100, heightMM}).WriteSTL(&buf, "brick"))
	must(t, os.MkdirAll(filepath.Dir(path), 0o755))
	must(t, os.WriteFile(path, buf.Bytes(), 0o644))
}

// sample writes a layout that names a mesh of a part, one of an alternative, one
// of a spot, and a table.
func sample(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"a.stl", "b.STL", "c.stl"} {
		brick(t, filepath.Join(dir, "meshes", name), 50)
	}
	brick(t, filepath.Join(dir, "meshes", "b.STL"), 60)
	must(t, os.WriteFile(filepath.Join(dir, "loads.csv"), []byte("name,x_mm\nidle,1\n"), 0o644))
	must(t, layout.Save(dir, &layout.Document{
		Title:  "First",
		Parts:  []layout.Part{{Name: "a", Role: "engine", Mesh: "meshes/a.stl", Group: "g", Alternatives: []layout.Alternative{{Name: "other", Mesh: "meshes/b.STL"}}}},
		Groups: []layout.Group{{Name: "g", Positions: "loads.csv"}},
		Spots:  []layout.Spot{{Name: "c", Role: "coil", Mesh: "meshes/c.stl", Hosts: []string{"role:engine"}}},
	}))
	return dir
}

func open(t *testing.T, dir string) (*layout.Document, *layout.Folder, *disk.Root) {
	t.Helper()
	doc, folder, err := layout.Open(dir)
	must(t, err)
	t.Cleanup(func() { folder.Close() })
	d, err := disk.At(dir)
	must(t, err)
	t.Cleanup(func() { d.Close() })
	return doc, folder, d
}

func TestKeepListOpenRestore(t *testing.T) {
	dir := sample(t)
	doc, folder, d := open(t, dir)
	first, err := layout.Encode(doc)
	must(t, err)
	if _, err := Keep(d, doc, folder, Note{Name: "A", At: day}); err == nil || !strings.Contains(err.Error(), "needs a reason") {
		t.Errorf("kept without a reason: %v", err)
	}
	a, err := Keep(d, doc, folder, Note{Name: "Issue A/1", Reason: "first review", At: day})
	must(t, err)
	if a.Folder != "revisions/001-issue-a-1" || a.Label() != "Issue A/1 (no. 1)" || len(a.Files) != 4 {
		t.Errorf("%+v", a)
	}
	kept, err := os.ReadDir(filepath.Join(dir, Dir, "files"))
	if err != nil || len(kept) != 3 { // a.stl and c.stl hold the same
		t.Errorf("%d contents kept, %v", len(kept), err)
	}

	brick(t, filepath.Join(dir, "meshes", "a.stl"), 70)
	must(t, os.Remove(filepath.Join(dir, "loads.csv")))
	must(t, os.WriteFile(filepath.Join(dir, "loads.csv"), []byte("name,x_mm\nidle,2\n"), 0o644))
	doc.Title = "Second"
	_, err = Keep(d, doc, folder, Note{Reason: "taller block", At: day})
	must(t, err)
	list, err := List(d)
	if err != nil || len(list) != 2 || list[1].Label() != "no. 2" || list[0].Reason != "first review" || list[1].Title != "Second" {
		t.Fatalf("%+v, %v", list, err)
	}

	old, oldFolder, r, err := Open(filepath.Join(dir, filepath.FromSlash(list[0].Folder)))
	must(t, err)
	defer oldFolder.Close()
	if text, err := layout.Encode(old); err != nil || !bytes.Equal(text, first) || r.Name != "Issue A/1" {
		t.Errorf("opened %q, %v", text, err)
	}
	for rel, word := range map[string]string{"meshes/a.stl": "", "loads.csv": "idle,1"} {
		data, err := oldFolder.ReadFile(rel)
		if err != nil || !strings.Contains(string(data), word) {
			t.Errorf("%s: %v", rel, err)
		}
	}
	was, _, err := oldFolder.ReadPrinted("meshes/a.stl")
	must(t, err)
	is, _, err := folder.ReadPrinted("meshes/a.stl")
	must(t, err)
	if bytes.Equal(was, is) {
		t.Error("the revision gives the mesh of today")
	}
	must(t, layout.SaveAs(filepath.Join(t.TempDir(), "copy"), old, oldFolder))
	if err := oldFolder.Add("new.stl", nil); err == nil {
		t.Error("a revision took a new file")
	}

	back, err := list[0].Restored(dir, folder)
	must(t, err)
	if back.Title != "First" || !strings.HasPrefix(back.Parts[0].Mesh, Dir+"/files/") || back.Parts[0].Alternatives[0].Mesh != "meshes/b.STL" ||
		back.Spots[0].Mesh != "meshes/c.stl" || !strings.HasSuffix(back.Groups[0].Positions, ".csv") || back.Groups[0].Positions == "loads.csv" {
		t.Errorf("restored %q", back.Files())
	}
	again, err := Keep(d, back, folder, Note{Reason: "restored", At: day})
	must(t, err)
	if now, err := os.ReadDir(filepath.Join(dir, Dir, "files")); err != nil || len(now) != 5 {
		t.Errorf("%d contents after keeping what was restored, %v", len(now), err)
	}
	if again.Number != 3 {
		t.Errorf("number %d", again.Number)
	}
}

// TestEveryFailure: a revision that is listed is whole, the earlier ones stay.
func TestEveryFailure(t *testing.T) {
	for _, kind := range faulty.Kinds() {
		for n := 1; ; n++ {
			dir := sample(t)
			doc, folder, d := open(t, dir)
			_, err := Keep(d, doc, folder, Note{Name: "A", Reason: "before", At: day})
			must(t, err)
			bad := faulty.New(d, n, kind)
			doc.Title = "Second"
			_, err = Keep(bad, doc, folder, Note{Name: "B", Reason: "under way", At: day})
			list, listErr := List(d)
			must(t, listErr)
			if len(list) < 1 || list[0].Name != "A" || err == nil && len(list) != 2 {
				t.Errorf("%v at %d: %d revisions, %v", kind, n, len(list), err)
			}
			for _, r := range list {
				_, f, _, err := Open(filepath.Join(dir, filepath.FromSlash(r.Folder)))
				if err != nil {
					t.Fatalf("%v at %d: %s: %v", kind, n, r.Folder, err)
				}
				for _, file := range r.Files {
					if data, err := f.ReadFile(file.Path); err != nil || int64(len(data)) != file.Bytes {
						t.Errorf("%v at %d: %s: %v", kind, n, file.Path, err)
					}
				}
				must(t, f.Close())
			}
			if !bad.Failed() {
				break
			}
		}
	}
}

// TestAHostileRevisionLeadsNowhere: records that name files outside.
func TestAHostileRevisionLeadsNowhere(t *testing.T) {
	dir := sample(t)
	doc, folder, d := open(t, dir)
	r, err := Keep(d, doc, folder, Note{Reason: "x", At: day})
	must(t, err)
	record := filepath.Join(dir, filepath.FromSlash(r.Folder), recordName)
	text, err := os.ReadFile(record)
	must(t, err)
	for name, change := range map[string][2]string{
		"a sum that is a path": {r.Files[0].SHA256, "../../../etc/passwd"},
		"another format":       {format, "other"},
		"a later version":      {`"version": 1`, `"version": 2`},
		"no JSON":              {"{", "["},
	} {
		must(t, os.WriteFile(record, bytes.ReplaceAll(text, []byte(change[0]), []byte(change[1])), 0o644))
		if _, _, _, err := Open(filepath.Dir(record)); err == nil {
			t.Errorf("%s: opened", name)
		}
		if list, err := List(d); err != nil || len(list) != 0 {
			t.Errorf("%s: listed, %v", name, err)
		}
	}
	for _, path := range []string{dir, filepath.Join(dir, Dir), filepath.Join(dir, Dir, "none")} {
		if _, _, _, err := Open(path); err == nil {
			t.Errorf("%s is no revision", path)
		}
	}
	if list, err := List(failing{d}); err == nil || list != nil {
		t.Error("an unreadable folder has revisions")
	}
}

type failing struct{ *disk.Root }

func (failing) ReadDir(string) ([]os.DirEntry, error) { return nil, errors.New("unreadable") }
