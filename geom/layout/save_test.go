package layout

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"aftbay/geom/disk"
	"aftbay/geom/disk/faulty"
)

// everyStepFails runs save on fresh folders and lets each of its steps fail in
// every way; after each, look judges what stands there.
func everyStepFails(t *testing.T, fresh func() string, save func(disk.Disk) error, look func(dir, what string, err error)) {
	t.Helper()
	steps := 1
	for _, kind := range faulty.Kinds() {
		for n := 0; n <= steps; n++ { // 0: none fails, to count them
			dir := fresh()
			root, err := disk.At(dir)
			if err != nil {
				t.Fatal(err)
			}
			d := faulty.New(root, n, kind)
			err = save(d)
			if n == 0 {
				if steps = d.Count(); err != nil || steps < 8 {
					t.Fatalf("%v after %q", err, d.Log())
				}
			} else {
				look(dir, kind.String()+" at "+d.Log()[n-1], err)
			}
			if err := root.Close(); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestSaveFails: after any fault the old or the new layout opens, its backup is
// whole, the error says how to mend it, and saving again works.
func TestSaveFails(t *testing.T) {
	_, doc := sampleFolder(t)
	old, next := *doc, *doc
	old.Title, next.Title = "old", "new"
	fresh := func() string {
		dir, _ := sampleFolder(t) // its title, the oldest, goes into the backup
		if err := Save(dir, &old); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	everyStepFails(t, fresh, func(d disk.Disk) error { return SaveOn(d, &next) }, func(dir, what string, err error) {
		now, _ := opened(t, dir)
		if now.Title != "old" && now.Title != "new" {
			t.Errorf("%s: title %q", what, now.Title)
		}
		kept, decodeErr := Decode([]byte(slurp(t, filepath.Join(dir, BackupName))), BackupName)
		if decodeErr != nil || kept.Title != "old" && kept.Title != "sample" || now.Title == "new" && kept.Title != "old" {
			t.Errorf("%s: backup %v, %v", what, kept, decodeErr)
		}
		var said *disk.Error
		if err != nil && (!errors.As(err, &said) || said.Mend.IsZero()) || err == nil && now.Title != "new" {
			t.Errorf("%s: error %v, title %q", what, err, now.Title)
		}
		if err := Save(dir, &next); err != nil {
			t.Errorf("%s: saving again: %v", what, err)
		}
		if again, _ := opened(t, dir); !reflect.DeepEqual(again, &next) {
			t.Errorf("%s: saved again: %+v", what, again)
		}
	})
}

// TestSavePackedFails: the same for a packed layout and its backup.
func TestSavePackedFails(t *testing.T) {
	dir, doc := sampleFolder(t)
	_, from := opened(t, dir)
	next := *doc
	next.Title = "new"
	const name = "x.aftbay"
	fresh := func() string {
		at := t.TempDir()
		if err := SaveAs(filepath.Join(at, name), doc, from); err != nil {
			t.Fatal(err)
		}
		return at
	}
	everyStepFails(t, fresh, func(d disk.Disk) error { return savePacked(d, name, &next, from) }, func(at, what string, err error) {
		now, folder := opened(t, filepath.Join(at, name))
		data, readErr := folder.ReadFile("meshes/a.stl")
		if now.Title != "sample" && now.Title != "new" || readErr != nil || string(data) != "mesh a" {
			t.Errorf("%s: title %q, mesh %q, %v", what, now.Title, data, readErr)
		}
		if _, statErr := os.Stat(filepath.Join(at, name+BackupExt)); statErr == nil {
			if kept := slurp(t, filepath.Join(at, name+BackupExt)); !strings.HasPrefix(kept, "PK") || !strings.Contains(kept, "PK\x05\x06") {
				t.Errorf("%s: the backup is no whole archive", what)
			}
		} else if now.Title == "new" {
			t.Errorf("%s: no backup", what)
		}
		var said *disk.Error
		if err != nil && !errors.As(err, &said) || err == nil && now.Title != "new" {
			t.Errorf("%s: error %v, title %q", what, err, now.Title)
		}
	})
}

// TestCopyFails: a copy that is cut short has no layout file, or is whole.
func TestCopyFails(t *testing.T) {
	dir, doc := sampleFolder(t)
	_, from := opened(t, dir)
	save := func(d disk.Disk) error { return saveCopy(d, doc, from) }
	everyStepFails(t, func() string { return t.TempDir() }, save, func(at, what string, err error) {
		if _, statErr := os.Stat(filepath.Join(at, FileName)); statErr != nil {
			if err == nil {
				t.Errorf("%s: no error and no layout", what)
			}
			return
		}
		if got, folder := opened(t, at); !reflect.DeepEqual(got, doc) || slurp(t, filepath.Join(folder.Path(), "meshes/a.stl")) != "mesh a" {
			t.Errorf("%s: %+v", what, got)
		}
	})
}
