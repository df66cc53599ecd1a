package desk

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
)

// others changes the title in the layout's file, as another program would.
func others(t *testing.T, dir, title string) {
	t.Helper()
	doc, folder, err := layout.Open(dir)
	must(t, err)
	must(t, folder.Close())
	doc.Title = title
	must(t, layout.Save(dir, doc))
}

func savedTitle(t *testing.T, dir string) string {
	t.Helper()
	doc, folder, err := layout.Open(dir)
	must(t, err)
	must(t, folder.Close())
	return doc.Title
}

func TestAFileChangedByOthersIsNotWrittenOver(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	retitle(t, d, "mine")
	others(t, dir, "theirs")
	if err := d.Save(); !errors.Is(err, ErrChangedOutside) { // before any look at the disk
		t.Fatalf("saved over: %v", err)
	}
	d.LookAtDisk()
	s := d.State()
	if !strings.Contains(s.Notice.Text, "the layout") || len(s.Notice.Acts) != 2 {
		t.Errorf("notice %+v", s.Notice)
	}
	must(t, d.Reload(context.Background()))
	if s := d.State(); s.Title != "theirs" || s.Unsaved || s.Undo != reloadName || s.Notice.Text != "" {
		t.Errorf("reloaded %q, unsaved %v, undo %q, notice %q", s.Title, s.Unsaved, s.Undo, s.Notice.Text)
	}
	must(t, d.Undo())
	if s := d.State(); s.Title != "mine" || !s.Unsaved {
		t.Errorf("undone %q, unsaved %v", s.Title, s.Unsaved)
	}
	must(t, d.Save())
	if savedTitle(t, dir) != "mine" {
		t.Error("not saved")
	}

	others(t, dir, "theirs again")
	must(t, d.SaveOver())
	backup, err := os.ReadFile(filepath.Join(dir, layout.BackupName))
	if err != nil || !bytes.Contains(backup, []byte("theirs again")) || savedTitle(t, dir) != "mine" {
		t.Errorf("saved over: backup %v, %q", err, savedTitle(t, dir))
	}

	others(t, dir, "theirs for good")
	retitle(t, d, "mine for good")
	d.LookAtDisk()
	d.KeepMine()
	d.LookAtDisk()
	if n := d.State().Notice; n.Text != "" {
		t.Errorf("told again: %q", n.Text)
	}
	must(t, d.Save())

	must(t, os.Remove(filepath.Join(dir, layout.FileName)))
	d.LookAtDisk()
	if n := d.State().Notice; !strings.Contains(n.Text, "not on the disk") {
		t.Errorf("notice %q", n.Text)
	}
	must(t, d.SaveOver())
	d.LookAtDisk()
	if n := d.State().Notice; n.Text != "" || savedTitle(t, dir) != "mine for good" {
		t.Errorf("notice %q", n.Text)
	}
}

// TestATouchedFileIsNotAChangedOne: only contents count.
func TestATouchedFileIsNotAChangedOne(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	later := time.Now().Add(time.Hour)
	for _, name := range []string{layout.FileName, "lid.stl"} {
		must(t, os.Chtimes(filepath.Join(dir, name), later, later))
	}
	d.LookAtDisk()
	if n := d.State().Notice; n.Text != "" {
		t.Errorf("notice %q", n.Text)
	}
}

// TestAMeshChangedByOthers: it comes in when asked for, and not with an edit.
func TestAMeshChangedByOthers(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	heightMM := func() float64 { return d.State().Scene.Parts[2].Box.Size()[2] }
	var buf bytes.Buffer
	must(t, plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 650}).WriteSTL(&buf, "lid"))
	path := filepath.Join(dir, "lid.stl")
	must(t, os.WriteFile(path, buf.Bytes(), 0o644))
	later := time.Now().Add(time.Minute)
	must(t, os.Chtimes(path, later, later))
	d.LookAtDisk()
	if n := d.State().Notice; !strings.Contains(n.Text, "lid.stl") || strings.Contains(n.Text, "undone") {
		t.Errorf("notice %q", n.Text)
	}
	retitle(t, d, "an edit")
	if heightMM() != 8 {
		t.Errorf("the new mesh slipped in with an edit: %g mm high", heightMM())
	}
	d.KeepMine()
	d.LookAtDisk()
	if n := d.State().Notice; n.Text != "" {
		t.Errorf("told again: %q", n.Text)
	}
	must(t, d.Reload(context.Background()))
	if s := d.State(); heightMM() != 38 || s.Title != "Plain" || s.Undo != reloadName {
		t.Errorf("reloaded: %g mm high, %q", heightMM(), s.Title)
	}
	must(t, d.Undo())
	must(t, os.Remove(path))
	d.LookAtDisk()
	if n := d.State().Notice; !strings.Contains(n.Text, "lid.stl") {
		t.Errorf("removed: notice %q", n.Text)
	}
	if err := d.Reload(context.Background()); err == nil || d.State().Title != "an edit" {
		t.Errorf("reloaded without a mesh: %v, %q", err, d.State().Title)
	}
	retitle(t, d, "goes on")
}
