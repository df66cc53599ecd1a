package desk

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// plainLayout writes a layout without studies, of which no answer takes long.
func plainLayout(t testing.TB) string {
	t.Helper()
	return writePlain(t, t.TempDir())
}

// atWork returns a desk on which a layout is open to work.
func atWork(t *testing.T, dir string, choice Choice) *Desk {
	t.Helper()
	d := bareDesk(t)
	if err := d.OpenToWork(context.Background(), dir, choice); err != nil {
		t.Fatal(err)
	}
	d.Cancel() // no answer is wanted here
	return d
}

// bareDesk returns a desk that looks at the disk only when asked to and keeps
// state in a folder of the test's.
func bareDesk(t testing.TB) *Desk {
	t.Helper()
	state := t.TempDir()
	s := realSystem()
	s.stateDir, s.every = func() (string, error) { return state, nil }, time.Hour
	d := newDesk(1, nil, s)
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	return d
}

func retitle(t testing.TB, d *Desk, title string) {
	t.Helper()
	if err := d.Edit("title "+title, func(doc *layout.Document) error { doc.Title = title; return nil }); err != nil {
		t.Fatal(err)
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func there(dir, name string) bool {
	_, err := os.Lstat(filepath.Join(dir, name))
	return err == nil
}

const (
	journalName = ".aftbay-journal"
	asideName   = ".aftbay-journal-aside"
	lockName    = ".aftbay-lock"
)

func TestRecoveryIsOfferedWithWhatItHolds(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	if there(dir, journalName) || !there(dir, lockName) {
		t.Error("before the first edit: a journal, or no lock")
	}
	retitle(t, d, "one")
	must(t, d.Save())
	if there(dir, journalName) {
		t.Error("a journal although all is saved")
	}
	retitle(t, d, "two")
	must(t, d.Nudge([]string{"lid"}, geom.Vec{0, 0, 1}, true))
	must(t, d.Nudge([]string{"lid"}, geom.Vec{0, 0, 1}, true))
	must(t, d.Undo())
	must(t, d.Close())
	if there(dir, lockName) || !there(dir, journalName) {
		t.Error("after the end: the lock, or no journal")
	}

	r, err := Recoverable(dir)
	must(t, err)
	if got := r.Sentence(); !strings.HasPrefix(got, "3 edits after the last save; last: undo move lid, ") || r.Foreign || r.Torn {
		t.Errorf("%q, %+v", got, r)
	}
	e := bareDesk(t)
	err = e.OpenToWork(context.Background(), dir, Ask)
	var pending *Pending
	if !errors.As(err, &pending) || e.State().Open {
		t.Fatalf("asked: %v, open %v", err, e.State().Open)
	}
	must(t, e.OpenToWork(context.Background(), dir, Recover))
	s := e.State()
	if s.Title != "two" || s.Undo != "title two" || s.Redo != "move lid" || !s.Unsaved {
		t.Errorf("recovered %q, undo %q, redo %q, unsaved %v", s.Title, s.Undo, s.Redo, s.Unsaved)
	}
	must(t, e.Redo())
	if got := e.State().Doc.Parts[2].MoveMM; got != (geom.Vec{0, 0, 2}) {
		t.Errorf("redone: the lid at %v", got)
	}
	must(t, e.Undo())
	must(t, e.Undo())
	if s := e.State(); s.Title != "one" || s.Unsaved {
		t.Errorf("all undone: %q, unsaved %v", s.Title, s.Unsaved)
	}
	must(t, e.Close())
	if there(dir, journalName) {
		t.Error("a journal although nothing is unsaved")
	}
}

func TestSetAsideAndTakenUp(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	retitle(t, d, "mine")
	must(t, d.Close())
	e := atWork(t, dir, PutAside)
	if s := e.State(); s.Title != "Plain" || s.Unsaved || there(dir, journalName) || !there(dir, asideName) {
		t.Errorf("put aside: %q, unsaved %v", s.Title, s.Unsaved)
	}
	must(t, e.OpenToWork(context.Background(), dir, TakeUp))
	if s := e.State(); s.Title != "mine" || !s.Unsaved || there(dir, asideName) || !there(dir, journalName) {
		t.Errorf("taken up: %q, unsaved %v", s.Title, s.Unsaved)
	}
	must(t, e.SetAside()) // as when the window closes without saving
	must(t, e.Close())
	if r, err := Recoverable(dir); r != nil || err != nil || !there(dir, asideName) {
		t.Errorf("after discarding: %+v, %v", r, err)
	}
	if err := bareDesk(t).OpenToWork(context.Background(), plainLayout(t), TakeUp); err == nil {
		t.Error("edits taken up where none are")
	}
}

// TestOpeningTheSameAgain: unsaved edits of the layout at hand are set aside.
func TestOpeningTheSameAgain(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	retitle(t, d, "mine")
	must(t, d.OpenToWork(context.Background(), dir, Ask))
	if s := d.State(); s.Title != "Plain" || s.ReadOnly || !there(dir, asideName) || there(dir, journalName) {
		t.Errorf("%q, read-only %v", s.Title, s.ReadOnly)
	}
	retitle(t, d, "more")
	if !there(dir, journalName) || !d.Journaled() {
		t.Error("no journal after opening again")
	}
}

func TestASecondWindowIsReadOnly(t *testing.T) {
	dir := plainLayout(t)
	first := atWork(t, dir, Ask)
	second := atWork(t, dir, Ask)
	s := second.State()
	if !s.ReadOnly || !strings.Contains(s.Notice.Text, "open in another window (process ") {
		t.Fatalf("read-only %v, notice %q", s.ReadOnly, s.Notice.Text)
	}
	for name, err := range map[string]error{
		"edit": second.Edit("title", func(doc *layout.Document) error { doc.Title = "x"; return nil }),
		"save": second.Save(),
	} {
		if !errors.Is(err, ErrReadOnly) || !strings.Contains(err.Error(), "save a copy") {
			t.Errorf("%s: %v", name, err)
		}
	}
	must(t, second.PreviewDrop(0))
	copied := filepath.Join(t.TempDir(), "copy")
	must(t, second.SaveCopy(copied))
	if err := first.SaveAs(dir); err != nil {
		t.Errorf("saving to the own place: %v", err)
	}
	retitle(t, first, "saved by the first")
	must(t, first.Save())
	second.LookAtDisk()
	if s := second.State(); !strings.Contains(s.Notice.Text, "Changed on the disk") {
		t.Errorf("notice %q", s.Notice.Text)
	}
	must(t, second.Reload(context.Background()))
	if s := second.State(); s.Title != "saved by the first" || s.Unsaved || s.Undo != "" {
		t.Errorf("reloaded %q, unsaved %v, undo %q", s.Title, s.Unsaved, s.Undo)
	}
	must(t, first.Close())
	second.LookAtDisk()
	if s := second.State(); len(s.Notice.Acts) != 1 || s.Notice.Acts[0] != ActTakeOver {
		t.Errorf("notice %+v", s.Notice)
	}
	must(t, second.OpenToWork(context.Background(), dir, Ask))
	retitle(t, second, "now mine")
}

// TestSaveAsGoesOnThere: the new place is locked and journaled, the old is free.
func TestSaveAsGoesOnThere(t *testing.T) {
	dir := plainLayout(t)
	other := plainLayout(t)
	d, o := atWork(t, dir, Ask), atWork(t, other, Ask)
	retitle(t, d, "moved")
	if err := d.SaveAs(other); err == nil || !strings.Contains(err.Error(), "another window") {
		t.Errorf("saved over a layout that is open: %v", err)
	}
	if o.State().Title != "Plain" {
		t.Error("the other layout changed")
	}
	for _, target := range []string{filepath.Join(t.TempDir(), "new"), filepath.Join(t.TempDir(), "new.aftbay")} {
		must(t, d.SaveAs(target))
		if s := d.State(); s.Unsaved || there(dir, lockName) || there(dir, journalName) {
			t.Errorf("%s: unsaved %v", target, s.Unsaved)
		}
		retitle(t, d, "edited in "+target)
		if !d.Journaled() {
			t.Errorf("%s: not journaled", target)
		}
		if err := bareDesk(t).OpenToWork(context.Background(), target, Ask); err != nil {
			t.Errorf("%s: a second window: %v", target, err)
		}
	}
	if !there(filepath.Dir(d.State().Path), ".new.aftbay-journal") {
		t.Error("no journal beside the packed file")
	}
	path := d.State().Path
	must(t, d.Close())
	r, err := Recoverable(path)
	if err != nil || r == nil || len(r.Edits) != 1 {
		t.Errorf("packed: %+v, %v", r, err)
	}
}

// TestAFolderThatCantBeWritten: journal and lock lie in the user's state, and
// the next start finds them there. A folder in the lock's place stands for one
// that can't be written, which the superuser always can.
func TestAFolderThatCantBeWritten(t *testing.T) {
	dir := plainLayout(t)
	must(t, os.Mkdir(filepath.Join(dir, lockName), 0o755))
	d := atWork(t, dir, Ask)
	retitle(t, d, "kept elsewhere")
	if !d.Journaled() || there(dir, journalName) {
		t.Errorf("notice %q", d.State().Notice.Text)
	}
	second := bareDesk(t)
	second.system.stateDir = d.system.stateDir
	must(t, second.OpenToWork(context.Background(), dir, Ask))
	if !second.State().ReadOnly {
		t.Error("two windows may change it")
	}
	must(t, second.Close())
	must(t, d.Close())
	third := bareDesk(t)
	third.system.stateDir = d.system.stateDir
	must(t, third.OpenToWork(context.Background(), dir, Recover))
	if third.State().Title != "kept elsewhere" {
		t.Errorf("recovered %q", third.State().Title)
	}

	none := bareDesk(t)
	none.system.stateDir = func() (string, error) { return "", errors.New("no home") }
	other := plainLayout(t)
	must(t, os.Mkdir(filepath.Join(other, lockName), 0o755))
	must(t, none.OpenToWork(context.Background(), other, Ask))
	retitle(t, none, "not journaled")
	if n := none.State().Notice.Text; !strings.Contains(n, "not safe against a crash") || !strings.Contains(n, "no home") || none.Journaled() {
		t.Errorf("notice %q", n)
	}
	must(t, none.Save())
}

// TestManyHandsAtOnce edits, undoes, saves and looks from several goroutines;
// what is journaled in the end is what is on the desk.
func TestManyHandsAtOnce(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	var hands sync.WaitGroup
	for hand, does := range []func(i int) error{
		func(i int) error { return d.Nudge([]string{"lid"}, geom.Vec{0, 0, 1}, i%3 > 0) },
		func(i int) error {
			return d.Edit("title", func(doc *layout.Document) error { doc.Title = fmt.Sprint("hand ", i); return nil })
		},
		func(i int) error { return errors.Join(d.Undo(), d.Redo()) },
		func(i int) error {
			if i%5 == 0 {
				return d.SaveOver() // a look between save and note may see it as changed
			}
			d.LookAtDisk()
			return nil
		},
		func(int) error { _ = d.State(); return nil },
		func(i int) error {
			_, err := d.KeepRevision("", "by hand")
			return err
		},
	} {
		hands.Go(func() {
			for i := range 10 {
				if err := does(i); err != nil {
					t.Errorf("hand %d: %v", hand, err)
				}
			}
		})
	}
	hands.Wait()
	retitle(t, d, "at last")
	want, err := layout.Encode(d.State().Doc)
	must(t, err)
	if !d.Journaled() {
		t.Errorf("notice %q", d.State().Notice.Text)
	}
	must(t, d.Close())
	again := atWork(t, dir, Recover)
	got, err := layout.Encode(again.State().Doc)
	if err != nil || string(got) != string(want) {
		t.Errorf("recovered\n%s\nwant\n%s", got, want)
	}
}

// TestPlaces: where journal and lock lie.
func TestPlaces(t *testing.T) {
	dir := t.TempDir()
	must(t, os.WriteFile(filepath.Join(dir, "layout.json"), nil, 0o644))
	for path, want := range map[string]string{
		dir:                                  journalName,
		filepath.Join(dir, "layout.json"):    journalName,
		filepath.Join(dir, "car.aftbay"):     ".car.aftbay-journal",
		filepath.Join(dir, "new/layout.dir"): "new/layout.dir/" + journalName,
	} {
		p, err := placeOf(path)
		must(t, err)
		if got := filepath.Join(p.dir, p.journal()); got != filepath.Join(dir, want) {
			t.Errorf("%s: %s", path, got)
		}
	}
	p, err := placeOf(dir)
	must(t, err)
	state := t.TempDir()
	e, err := p.elsewhere(func() (string, error) { return state, nil })
	if err != nil || e.dir != state || e.file != p.file || e.journal() == p.journal() {
		t.Errorf("elsewhere %+v, %v", e, err)
	}
}
