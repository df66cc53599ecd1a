package layout

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"aftbay/geom/disk"
)

// sampleFolder makes a layout folder with a mesh of any content.
func sampleFolder(t *testing.T) (string, *Document) {
	t.Helper()
	dir := t.TempDir()
	put(t, filepath.Join(dir, "meshes", "a.stl"), "mesh a")
	put(t, filepath.Join(dir, "positions.csv"), "name\nidle\n")
	doc := &Document{
		Format: Format, Version: Version, Title: "sample",
		Parts:  []Part{{Name: "a", Role: "engine", Mesh: "meshes/a.stl"}, {Name: "b", Role: "engine", Mesh: "meshes/a.stl"}},
		Groups: []Group{{Name: "g", Positions: "positions.csv"}},
	}
	if err := Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	return dir, doc
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func slurp(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func opened(t *testing.T, path string) (*Document, *Folder) {
	t.Helper()
	doc, f, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return doc, f
}

func TestOpenThreeWays(t *testing.T) {
	dir, want := sampleFolder(t)
	_, from := opened(t, dir)
	packed := filepath.Join(t.TempDir(), "sample.aftbay")
	if err := SaveAs(packed, want, from); err != nil {
		t.Fatal(err)
	}
	for path, base := range map[string]string{dir: dir, filepath.Join(dir, FileName): dir, packed: packed} {
		doc, f := opened(t, path)
		if !reflect.DeepEqual(doc, want) || f.Path() != base {
			t.Errorf("%s: path %s, %+v", path, f.Path(), doc)
		}
		if data, err := f.ReadFile("meshes/a.stl"); err != nil || string(data) != "mesh a" {
			t.Errorf("%s: mesh %q, %v", path, data, err)
		}
		if list, err := f.Positions(&doc.Groups[0]); err != nil || len(list) != 1 || list[0].Name != "idle" {
			t.Errorf("%s: positions %v, %v", path, list, err)
		}
	}
}

// TestHostilePaths: nothing outside the folder can be read, by whatever way.
func TestHostilePaths(t *testing.T) {
	dir, _ := sampleFolder(t)
	outside := filepath.Join(t.TempDir(), "secret.stl")
	put(t, outside, "secret")
	link := func(to, rel string) {
		if err := os.Symlink(to, filepath.Join(dir, filepath.FromSlash(rel))); err != nil {
			t.Fatal(err)
		}
	}
	link(outside, "meshes/link.stl")
	link(filepath.Dir(outside), "out")
	link("a.stl", "meshes/inside.stl")
	link("loop.stl", "meshes/loop.stl")
	_, f := opened(t, dir)
	for rel, want := range map[string]string{
		"meshes/link.stl":    "a link leads out of the layout folder",
		"out/secret.stl":     "a link leads out of the layout folder",
		"meshes/loop.stl":    "",
		outside:              "is absolute",
		"../x/secret.stl":    "leaves the layout folder",
		"meshes/../../x.stl": "leaves the layout folder",
		`meshes\a.stl`:       "has a backslash",
		"meshes//a.stl":      "isn't in its plain form",
		"./meshes/a.stl":     "isn't in its plain form",
		"":                   "names no file",
		"meshes":             "no plain file",
		"meshes/gone.stl":    "there is no such file",
		"meshes/A.stl":       "there is no such file",
	} {
		data, err := f.ReadFile(rel)
		var fault Fault
		if err == nil || !errors.As(err, &fault) || !strings.Contains(err.Error(), want) || fault.Mend.IsZero() {
			t.Errorf("%q: got %q, %v; want %q", rel, data, err, want)
		}
	}
	if data, err := f.ReadFile("meshes/inside.stl"); err != nil || string(data) != "mesh a" {
		t.Errorf("a link that stays inside: %q, %v", data, err)
	}
}

func TestTooLarge(t *testing.T) {
	dir, _ := sampleFolder(t)
	for rel, size := range map[string]int64{"meshes/huge.stl": MaxFileBytes + 1, FileName: MaxDocumentBytes + 1} {
		path := filepath.Join(dir, filepath.FromSlash(rel))
		put(t, path, "")
		if err := os.Truncate(path, size); err != nil { // sparse: takes no room
			t.Fatal(err)
		}
	}
	if _, _, err := Open(dir); err == nil || !strings.Contains(err.Error(), "the file has 16777217 bytes") {
		t.Errorf("layout: %v", err)
	}
	root, err := disk.At(dir)
	if err != nil {
		t.Fatal(err)
	}
	f := &Folder{path: dir, root: root}
	defer f.Close()
	if _, err := f.ReadFile("meshes/huge.stl"); err == nil || !strings.Contains(err.Error(), "more than the 536870912 that are read") {
		t.Errorf("mesh: %v", err)
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "bad.aftbay"), "not a zip")
	put(t, filepath.Join(dir, "broken", FileName), "{")
	for path, want := range map[string]string{
		filepath.Join(dir, "gone"):       "there is no such file; give a layout folder, its layout.json or an .aftbay file",
		dir:                              FileName + ": there is no such file",
		filepath.Join(dir, "bad.aftbay"): "not readable as a packed layout",
		filepath.Join(dir, "broken"):     "layout.json: line 1: not readable as JSON: the file ends too early",
		os.DevNull:                       "neither a folder nor a plain file",
	} {
		doc, f, err := Open(path)
		if doc != nil || f != nil || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", path, err, want)
		}
	}
}

// archive writes entries to a packed file; mode 0 is a plain file.
func archive(t *testing.T, entries ...entry) string {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		if e.mode != 0 {
			h.SetMode(e.mode)
		}
		f, err := w.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(e.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "x.aftbay")
	put(t, path, out.String())
	return path
}

type entry struct {
	name, text string
	mode       fs.FileMode
}

func TestPackedHostile(t *testing.T) {
	_, doc := sampleFolder(t)
	text, err := Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	good := entry{FileName, string(text), 0}
	many := make([]entry, maxPackedEntries+1)
	for i := range many {
		many[i] = entry{fmt.Sprint("f", i), "", 0}
	}
	for _, c := range []struct {
		name    string
		entries []entry
		want    string
	}{
		{"nothing", nil, "no layout.json packed in it"},
		{"two folders", []entry{{"a/layout.json", "{}", 0}, {"b/layout.json", "{}", 0}}, "no layout.json packed in it"},
		{"way out", []entry{good, {"../evil.stl", "x", 0}}, "packed in it: the path \"../evil.stl\" leaves the layout folder"},
		{"hidden way out", []entry{good, {"a/../../evil.stl", "x", 0}}, "leaves the layout folder"},
		{"absolute", []entry{good, {"/etc/passwd", "x", 0}}, "is absolute"},
		{"backslash", []entry{good, {`..\evil.stl`, "x", 0}}, "has a backslash"},
		{"link", []entry{good, {"a.stl", "/etc/passwd", fs.ModeSymlink | 0o777}}, "packed as a link or device"},
		{"twice", []entry{good, good}, "packed twice"},
		{"too many", many, "10001 files packed in it, more than 10000"},
	} {
		doc, _, err := Open(archive(t, c.entries...))
		if doc != nil || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", c.name, err, c.want)
		}
	}
	// The folder itself packed, with the rubbish that some systems add.
	packed := archive(t, entry{"lay/", "", fs.ModeDir | 0o755}, entry{"lay/layout.json", string(text), 0}, entry{"lay/meshes/a.stl", "mesh a", 0}, entry{"__MACOSX/lay/._layout.json", "x", 0})
	_, f := opened(t, packed)
	if data, err := f.ReadFile("meshes/a.stl"); err != nil || string(data) != "mesh a" {
		t.Errorf("packed folder: %q, %v", data, err)
	}
}

// TestPackedLies: sizes declared in the directory are not believed.
func TestPackedLies(t *testing.T) {
	_, doc := sampleFolder(t)
	text, err := Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	honest := slurp(t, archive(t, entry{FileName, string(text), 0}, entry{"meshes/a.stl", strings.Repeat("a", 1<<20), 0}))
	// In the central directory the unpacked size stands 24 bytes into a record.
	const signature = "PK\x01\x02"
	at := strings.LastIndex(honest, signature) + 24
	for declared, want := range map[uint32]string{
		7:                     "check the file",        // more comes out than declared
		1 << 30:               "unpacks to 1073741824", // refused before it is unpacked
		MaxFileBytes:          "made to fill the memory",
		freeUnpackedBytes / 2: "check the file", // less comes out than declared
	} {
		data := []byte(honest)
		binary.LittleEndian.PutUint32(data[at:], declared)
		path := filepath.Join(t.TempDir(), "x.aftbay")
		put(t, path, string(data))
		_, f, err := Open(path)
		if err == nil {
			_, err = f.ReadFile("meshes/a.stl")
			f.Close()
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("declared %d: got %v, want %s", declared, err, want)
		}
	}
}

func TestSaveKeepsTheOldFile(t *testing.T) {
	dir, doc := sampleFolder(t)
	file, backup := filepath.Join(dir, FileName), filepath.Join(dir, BackupName)
	first := slurp(t, file)
	doc.Title = "second"
	for range 2 { // saving the same again must not bury the first version
		if err := Save(dir, doc); err != nil {
			t.Fatal(err)
		}
	}
	if got := slurp(t, backup); got != first {
		t.Errorf("backup holds %q", got)
	}
	second := slurp(t, file)
	if again, _ := opened(t, dir); again.Title != "second" {
		t.Errorf("title %q", again.Title)
	}

	doc.Parts[1].Name = "a" // faulty: refused, and nothing is touched
	if err := Save(dir, doc); err == nil || !strings.Contains(err.Error(), `the name "a" is taken`) {
		t.Errorf("saved a faulty document: %v", err)
	}
	if slurp(t, file) != second || slurp(t, backup) != first {
		t.Error("a refused save changed files")
	}
	if list, _ := filepath.Glob(filepath.Join(dir, ".*")); len(list) > 0 {
		t.Errorf("left over: %v", list)
	}
	if err := Save(filepath.Join(dir, "gone"), doc); err == nil {
		t.Error("saved into no folder")
	}
}

// TestSaveThroughLink: a layout.json that is a link out of the folder is
// neither read nor written through.
func TestSaveThroughLink(t *testing.T) {
	dir, doc := sampleFolder(t)
	outside := filepath.Join(t.TempDir(), "victim")
	put(t, outside, "untouched")
	if err := errors.Join(os.Remove(filepath.Join(dir, FileName)), os.Symlink(outside, filepath.Join(dir, FileName))); err != nil {
		t.Fatal(err)
	}
	err := Save(dir, doc)
	if err == nil || slurp(t, outside) != "untouched" {
		t.Errorf("error %v, victim %q", err, slurp(t, outside))
	}
}

func TestSaveAs(t *testing.T) {
	dir, doc := sampleFolder(t)
	_, from := opened(t, dir)
	target := filepath.Join(t.TempDir(), "deep", "copy")
	if err := SaveAs(target, doc, from); err != nil {
		t.Fatal(err)
	}
	for _, rel := range []string{FileName, "meshes/a.stl", "positions.csv"} {
		if got, want := slurp(t, filepath.Join(target, rel)), slurp(t, filepath.Join(dir, rel)); got != want {
			t.Errorf("%s: %q, want %q", rel, got, want)
		}
	}
	if err := SaveAs(dir, doc, from); err != nil { // onto itself
		t.Error(err)
	}
	doc.Parts[0].Mesh = "meshes/gone.stl"
	half := filepath.Join(t.TempDir(), "half")
	if err := SaveAs(half, doc, from); err == nil {
		t.Error("a missing mesh went unnoticed")
	}
	if _, err := os.Stat(filepath.Join(half, FileName)); err == nil {
		t.Error("an incomplete copy has a layout file")
	}
	packed := filepath.Join(t.TempDir(), "half.aftbay")
	if err := SaveAs(packed, doc, from); err == nil {
		t.Error("a missing mesh went unnoticed")
	}
	if list, _ := os.ReadDir(filepath.Dir(packed)); len(list) > 0 { // no half of it either
		t.Errorf("left over: %v", list)
	}
}

func TestPackIsReproducible(t *testing.T) {
	dir, doc := sampleFolder(t)
	_, from := opened(t, dir)
	var a, b bytes.Buffer
	if err := errors.Join(Pack(&a, doc, from), Pack(&b, doc, from)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("packed twice, two results")
	}
}
