package desk

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
)

func TestARevisionComesBackWithItsMeshes(t *testing.T) {
	dir := plainLayout(t)
	d := atWork(t, dir, Ask)
	retitle(t, d, "as reviewed") // not saved
	kept, err := d.KeepRevision("B", "review of the week")
	must(t, err)
	if !d.State().Unsaved {
		t.Error("keeping a revision saved the layout")
	}
	var buf bytes.Buffer
	must(t, plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 650}).WriteSTL(&buf, "lid"))
	must(t, os.WriteFile(filepath.Join(dir, "lid.stl"), buf.Bytes(), 0o644))
	retitle(t, d, "gone on")
	must(t, d.Reload(t.Context()))
	list, err := d.Revisions()
	if err != nil || len(list) != 1 || list[0].Folder != kept.Folder {
		t.Fatalf("%+v, %v", list, err)
	}
	if heading, reason := RevisionText(&list[0]); !strings.HasPrefix(heading, "B (no. 1), 20") || reason != "review of the week" {
		t.Errorf("%q %q", heading, reason)
	}
	must(t, d.RestoreRevision(&list[0]))
	s := d.State()
	if h := s.Scene.Parts[2].Box.Size()[2]; s.Title != "as reviewed" || h != 8 || s.Undo != "restore revision B (no. 1)" {
		t.Errorf("restored %q, the lid %g mm high, undo %q", s.Title, h, s.Undo)
	}
	must(t, d.Save())
	must(t, d.Undo())
	if s := d.State(); s.Scene.Parts[2].Box.Size()[2] != 38 {
		t.Error("undo does not bring back the mesh of today")
	}

	second := atWork(t, dir, Ask)
	if _, err := second.KeepRevision("C", "from the second window"); err == nil {
		t.Error("a read-only layout kept a revision")
	}
	packed := filepath.Join(t.TempDir(), "x.aftbay")
	must(t, d.SaveAs(packed))
	if _, err := d.KeepRevision("C", "packed"); err == nil || !strings.Contains(err.Error(), "into a folder first") {
		t.Errorf("packed: %v", err)
	}
	doc, folder, err := layout.Open(packed)
	must(t, err)
	must(t, folder.Close())
	if len(doc.Parts) != 3 {
		t.Error("packed layout lost parts")
	}
}
