package window

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"aftbay/geom"
	"aftbay/geom/layout/gather"
	"aftbay/geom/mesh/plain"
)

// TestDroppedSTLFilesBecomeParts: into the open layout, and into a new one.
func TestDroppedSTLFilesBecomeParts(t *testing.T) {
	src := t.TempDir()
	var buf bytes.Buffer
	if err := plain.Brick(geom.Vec{}, geom.Vec{110, 30, 30}).WriteSTL(&buf, "brick"); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(src, "ignition coil.stl")
	if err := os.WriteFile(file, buf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	b := benchOn(t, writeBench(t, "Bench"), t.TempDir())
	b.dropped([]fyne.URI{storage.NewFileURI(file)})
	b.settle()
	texts, _ := b.dialog()
	if all := strings.Join(texts, "\n"); !strings.Contains(all, "110.00 × 30.00 × 30.00 mm") || !strings.Contains(all, "Role: ") {
		t.Errorf("asked %q", texts)
	}
	b.press("Add to this layout")
	if n := len(b.state.Doc.Parts); n != 4 || b.state.Undo != "add ignition coil" {
		t.Errorf("%d parts, undo %q", n, b.state.Undo)
	}
	b.dropped([]fyne.URI{storage.NewFileURI(src)})
	b.settle()
	b.press("New layout…")
	b.press("Beside the meshes")
	b.press("Discard changes")
	if b.state.Path != src || len(b.state.Doc.Parts) != 1 || b.state.Doc.Parts[0].Role != "coil" {
		t.Errorf("opened %s with %d parts", b.state.Path, len(b.state.Doc.Parts))
	}
}

// Files that are not ticked do not become parts.
func TestOnlyTickedFilesBecomeParts(t *testing.T) {
	src := t.TempDir()
	for _, name := range []string{"one", "two"} {
		var buf bytes.Buffer
		if err := plain.Brick(geom.Vec{}, geom.Vec{110, 30, 30}).WriteSTL(&buf, name); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(src, name+".stl"), buf.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	p, err := gather.Propose(t.Context(), []string{src}, gather.Options{})
	if err != nil || len(p.Parts) != 2 {
		t.Fatalf("proposed %+v, %v", p, err)
	}
	b := newBench(t)
	b.ifTaken(p, []bool{true, true}, func(*gather.Proposal) { t.Error("went on with nothing") })
	if texts, _ := b.dialog(); !strings.Contains(strings.Join(texts, " "), "tick those") {
		t.Errorf("said %q", texts)
	}
	b.press("Close")
	b.ifTaken(p, []bool{true, false}, func(p *gather.Proposal) {
		b.edit(func() error { return b.desk.AddGathered(b.context, p) })
	})
	b.settle()
	if n := len(b.state.Doc.Parts); n != 4 || b.state.Doc.Parts[3].Name != "two" {
		t.Errorf("%d parts, the last %q", n, b.state.Doc.Parts[n-1].Name)
	}
}
