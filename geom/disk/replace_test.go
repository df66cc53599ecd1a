package disk_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom/disk"
	"aftbay/geom/disk/faulty"
)

const (
	name   = "sub/doc.json"
	backup = "sub/doc.json.bak"
)

// room makes a folder with an old document and an older backup of it.
func room(t *testing.T) *disk.Root {
	t.Helper()
	root, err := disk.Make(filepath.Join(t.TempDir(), "room"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	if err := root.MkdirAll("sub", 0o755); err != nil {
		t.Fatal(err)
	}
	for rel, text := range map[string]string{name: "old", backup: "older"} {
		if err := disk.Replace(root, rel, []byte(text), disk.Options{}); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

func text(t *testing.T, d disk.Disk, rel string) string {
	t.Helper()
	data, err := disk.Read(d, rel, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func names(t *testing.T, d disk.Disk, dir string) []string {
	t.Helper()
	list, err := d.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return out
}

// TestEveryStepFails: whichever step of a save fails, and however, the old or
// the new file stands whole, so does the backup, the error says what was not
// done and how to mend it, and what is left lying about is known by its name.
func TestEveryStepFails(t *testing.T) {
	whole := faulty.New(room(t), 0, faulty.Error)
	if err := disk.Replace(whole, name, []byte("new"), disk.Options{Backup: backup}); err != nil {
		t.Fatal(err)
	}
	if whole.Count() < 12 {
		t.Fatalf("only %d steps: %v", whole.Count(), whole.Log())
	}
	for _, kind := range faulty.Kinds() {
		for n := 1; n <= whole.Count(); n++ {
			t.Run(fmt.Sprintf("%v %d %s", kind, n, whole.Log()[n-1]), func(t *testing.T) {
				root := room(t)
				d := faulty.New(root, n, kind)
				err := disk.Replace(d, name, []byte("new"), disk.Options{Backup: backup})
				var said *disk.Error
				if !errors.As(err, &said) || said.Where == "" || said.What.IsZero() || said.Mend.IsZero() || strings.Contains(err.Error(), "\n") {
					t.Fatalf("error %#v", err)
				}
				now, kept := text(t, root, name), text(t, root, backup)
				switch {
				case now != "old" && now != "new":
					t.Errorf("the file holds %q", now)
				case now == "old" && strings.Contains(said.What.String(), "written, but"), now == "new" && !strings.Contains(said.What.String(), "written, but"):
					t.Errorf("the file holds %q and the error says %q", now, said.What)
				}
				if kept != "old" && kept != "older" || now == "new" && kept != "old" {
					t.Errorf("the backup holds %q, the file %q", kept, now)
				}
				if kind == faulty.NoSpace && !strings.Contains(err.Error(), "the disk is full; make room on it") {
					t.Errorf("a full disk is called %v", err)
				}
				if err := disk.Tidy(root, name, backup); err != nil {
					t.Error(err)
				}
				if left := names(t, root, "sub"); fmt.Sprint(left) != "[doc.json doc.json.bak]" {
					t.Errorf("after tidying there is %v", left)
				}
				if err := disk.Replace(root, name, []byte("newer"), disk.Options{Backup: backup}); err != nil || text(t, root, name) != "newer" || text(t, root, backup) != now {
					t.Errorf("saving again: %v", err)
				}
			})
		}
	}
}

// TestFirstSaveFails: the same for a file that wasn't there.
func TestFirstSaveFails(t *testing.T) {
	for _, kind := range faulty.Kinds() {
		for n := 1; n < 20; n++ {
			root := room(t)
			d := faulty.New(root, n, kind)
			err := disk.Replace(d, "first.json", []byte("new"), disk.Options{Backup: "first.bak"})
			if !d.Failed() {
				break
			}
			if err == nil {
				t.Errorf("%v %d: no error", kind, n)
			}
			if _, statErr := root.Stat("first.json"); statErr == nil && text(t, root, "first.json") != "new" {
				t.Errorf("%v %d: half a file", kind, n)
			}
		}
	}
}

func TestPermissions(t *testing.T) {
	root := room(t)
	for _, perm := range []fs.FileMode{0o600, 0o666, 0o640} {
		if err := root.Chmod(name, perm); err != nil {
			t.Fatal(err)
		}
		if err := disk.Replace(root, name, []byte(perm.String()), disk.Options{Backup: backup}); err != nil {
			t.Fatal(err)
		}
		for _, rel := range []string{name, backup} {
			if info, err := root.Stat(rel); err != nil || info.Mode().Perm() != perm {
				t.Errorf("%s: %v, %v, want %v", rel, info.Mode(), err, perm)
			}
		}
	}
	if err := disk.Replace(root, "secret", nil, disk.Options{Perm: 0o600}); err != nil {
		t.Fatal(err)
	}
	if info, err := root.Stat("secret"); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("new file: %v, %v", info.Mode(), err)
	}
	if err := root.Chmod(name, 0o444); err != nil {
		t.Fatal(err)
	}
	before := text(t, root, name)
	if err := disk.Replace(root, name, []byte("x"), disk.Options{Backup: backup}); err == nil || !strings.Contains(err.Error(), "the file is read-only; allow writing to it, or save elsewhere") || text(t, root, name) != before {
		t.Errorf("a read-only file: %v", err)
	}
}

// TestLinksAreNotFollowed: nothing is written through a link, wherever it
// leads, and no folder or pipe is taken for a file.
func TestLinksAreNotFollowed(t *testing.T) {
	root := room(t)
	outside := filepath.Join(t.TempDir(), "victim")
	if err := os.WriteFile(outside, []byte("untouched"), 0o644); err != nil {
		t.Fatal(err)
	}
	for rel, to := range map[string]string{"out": outside, "in": name, "loop": "loop", "gone": "nowhere", "away": filepath.Dir(outside)} {
		if err := os.Symlink(to, filepath.Join(root.Path(), rel)); err != nil {
			t.Fatal(err)
		}
	}
	for rel, want := range map[string]string{
		"out":         "out: not written: a link stands there; put the file itself in its place",
		"in":          "in: not written: a link stands there",
		"loop":        "loop: not written: a link stands there",
		"gone":        "gone: not written: a link stands there",
		"sub":         "sub: not written: no plain file stands there",
		"away/victim": "a link leads out of the folder; put the file itself there",
		"../x":        "a link leads out of the folder",
		"no/x":        "there is no such file or folder",
	} {
		err := disk.Replace(root, rel, []byte("new"), disk.Options{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("replace %s: got %v, want %s", rel, err, want)
		}
		if a, err := disk.Append(root, rel, 0o644); err == nil {
			t.Errorf("append %s: opened %v", rel, a)
		}
	}
	if err := disk.Replace(root, name, []byte("new"), disk.Options{Backup: "out"}); err == nil {
		t.Error("the backup went through a link")
	}
	data, err := os.ReadFile(outside)
	if err != nil || string(data) != "untouched" || text(t, root, name) != "old" {
		t.Errorf("outside %q, %v; inside %q", data, err, text(t, root, name))
	}
}

// TestAppend: whichever step fails, all whole records are there and at most
// the one under way is torn; where the program lives on, not even that.
func TestAppend(t *testing.T) {
	records := []string{"one\n", "two\n", "three\n"}
	run := func(d disk.Disk) (added string, failed error) {
		a, err := disk.Append(d, "journal", 0o600)
		if err != nil {
			return "", err
		}
		for _, r := range records {
			if err := a.Add([]byte(r)); err == nil {
				added += r
			} else if failed == nil {
				failed = err
			}
		}
		return added, errors.Join(failed, a.Close())
	}
	whole := faulty.New(room(t), 0, faulty.Error)
	if added, err := run(whole); err != nil || added != "one\ntwo\nthree\n" {
		t.Fatal(added, err)
	}
	for _, kind := range faulty.Kinds() {
		for n := 1; n <= whole.Count(); n++ {
			root := room(t)
			added, err := run(faulty.New(root, n, kind))
			if err == nil {
				t.Errorf("%v %d: no error", kind, n)
			}
			data, err := disk.Read(root, "journal", 1<<20)
			if err != nil && (added != "" || !errors.Is(err, fs.ErrNotExist)) {
				t.Errorf("%v %d: %v", kind, n, err)
			}
			got := string(data)
			lives := kind != faulty.Crash && kind != faulty.PowerCut
			if !strings.HasPrefix(got, added) || lives && got != added || len(got) > len(added)+len("three\n") {
				t.Errorf("%v %d %s: added %q, the file holds %q", kind, n, whole.Log()[n-1], added, got)
			}
		}
	}
}

func TestAppendGoesOn(t *testing.T) {
	root := room(t)
	for i := range 3 {
		a, err := disk.Append(root, "journal", 0o600)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(a.Add([]byte{byte('a' + i)}), a.Close()); err != nil || a.SizeBytes() != int64(i+1) {
			t.Errorf("%d bytes, %v", a.SizeBytes(), err)
		}
	}
	if got := text(t, root, "journal"); got != "abc" {
		t.Errorf("got %q", got)
	}
}

func TestRead(t *testing.T) {
	root := room(t)
	for rel, want := range map[string]string{
		"gone": "there is no such file", "sub": "no plain file", "big": "the file has 2097152 bytes, more than the 1048576 that are read",
	} {
		if rel == "big" {
			if err := disk.Replace(root, rel, bytes.Repeat([]byte("x"), 2<<20), disk.Options{}); err != nil {
				t.Fatal(err)
			}
		}
		if data, err := disk.Read(root, rel, 1<<20); data != nil || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", rel, err)
		}
	}
	if _, err := disk.At(filepath.Join(root.Path(), "gone")); err == nil {
		t.Error("opened no folder")
	}
	if _, err := disk.Make(filepath.Join(root.Path(), name)); err == nil {
		t.Error("made a folder of a file")
	}
}

// TestLeftFromACrash: names taken by leftovers don't stop a save.
func TestLeftFromACrash(t *testing.T) {
	root := room(t)
	for range 3 {
		d := faulty.New(root, 8, faulty.Crash)
		if err := disk.Replace(d, name, []byte("new"), disk.Options{Backup: backup}); err == nil {
			t.Fatal("no crash")
		}
	}
	for _, rel := range names(t, root, "sub") {
		if disk.IsTemp(rel) == strings.HasPrefix(rel, "doc.") {
			t.Errorf("IsTemp(%s) = %v", rel, disk.IsTemp(rel))
		}
	}
	for temp, want := range map[string]bool{
		"sub/.doc.json.12-0.new": true, ".a.b.1-99.new": true, ".doc.json.new": false, ".doc.json.12.new": false, "doc.json.12-0.new": false,
		".doc.json.12-0": false, ".doc.json.x-0.new": false, ".doc.json.12-.new": false, "..1-1.new": false, ".new": false, "": false,
	} {
		if disk.IsTemp(temp) != want {
			t.Errorf("IsTemp(%q) = %v", temp, !want)
		}
	}
	if len(names(t, root, "sub")) < 3 {
		t.Fatalf("nothing left over: %v", names(t, root, "sub"))
	}
	if err := disk.Replace(root, name, []byte("new"), disk.Options{Backup: backup}); err != nil || text(t, root, name) != "new" {
		t.Error(err)
	}
	const other = "sub/.other.json.1-0.new" // of a file that somebody else may be writing
	if err := disk.Replace(root, other, nil, disk.Options{}); err != nil {
		t.Fatal(err)
	}
	if err := disk.Tidy(root, name, backup); err != nil || fmt.Sprint(names(t, root, "sub")) != "[.other.json.1-0.new doc.json doc.json.bak]" {
		t.Errorf("tidied: %v, %v", names(t, root, "sub"), err)
	}
}

func ExampleReplace() {
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	d, err := disk.At(dir)
	if err != nil {
		panic(err)
	}
	defer d.Close()
	for _, text := range []string{"first", "second"} {
		if err := disk.Replace(d, "note.txt", []byte(text), disk.Options{Backup: "note.txt.bak"}); err != nil {
			fmt.Println(err)
		}
	}
	now, _ := disk.Read(d, "note.txt", 100)
	kept, _ := disk.Read(d, "note.txt.bak", 100)
	fmt.Printf("%s, before it %s\n", now, kept)
	// Output: second, before it first
}
