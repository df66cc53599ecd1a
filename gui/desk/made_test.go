package desk

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// meshFiles lists the files that a mirrored part of the plain layout can have.
func meshFiles(t *testing.T, d *Desk) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(d.State().Path, "meshes"))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// A mesh file that an edit has written goes with the edit and comes back with it,
// unless somebody else wrote into it or a saved layout names it.
func TestUndoTakesBackTheFileItMade(t *testing.T) {
	d := plainAtWork(t)
	_, err := d.MirrorParts([]string{"lid"})
	must(t, err)
	if got := meshFiles(t, d); !slices.Equal(got, []string{"lid-copy.stl"}) {
		t.Fatalf("mirrored: %v", got)
	}
	must(t, d.Undo())
	if got := meshFiles(t, d); len(got) != 0 {
		t.Errorf("undo leaves %v", got)
	}
	must(t, d.Redo())
	if got := meshFiles(t, d); len(got) != 1 || len(d.State().Scene.Parts) != 4 {
		t.Errorf("redo makes %v, %d parts", got, len(d.State().Scene.Parts))
	}
	d.LookAtDisk()
	if o := d.keep.outside; o.any() {
		t.Errorf("taken for the work of others: %+v", o)
	}
	must(t, d.Save())
	must(t, d.Undo())
	if got := meshFiles(t, d); len(got) != 1 {
		t.Error("the file of a saved layout is gone")
	}
	_, err = d.MirrorParts([]string{"tray"})
	must(t, err)
	mine := filepath.Join(d.State().Path, "meshes", "tray-copy.stl")
	must(t, os.WriteFile(mine, []byte("something else"), 0o600))
	must(t, d.Undo())
	if data, err := os.ReadFile(mine); err != nil || string(data) != "something else" {
		t.Errorf("what others wrote is gone: %q, %v", data, err)
	}
}

// A mesh from elsewhere is copied by the edit that first names it and goes with
// that edit; one that lies in the folder is named where it lies; what is no mesh
// is refused.
func TestMeshIsBrought(t *testing.T) {
	d := plainAtWork(t)
	here := d.State().Doc.Parts[0].Mesh
	data, err := os.ReadFile(filepath.Join(d.State().Path, filepath.FromSlash(here)))
	must(t, err)
	elsewhere := filepath.Join(t.TempDir(), "New Lid.stl")
	must(t, os.WriteFile(elsewhere, data, 0o600))
	if rel, err := d.BringMesh(filepath.Join(d.State().Path, filepath.FromSlash(here))); err != nil || rel != here {
		t.Errorf("a file of the folder: %q, %v", rel, err)
	}
	rel, err := d.BringMesh(elsewhere)
	must(t, err)
	if got := meshFiles(t, d); rel != "meshes/new-lid.stl" || len(got) != 0 {
		t.Errorf("brought as %q; before anything names it there are %v", rel, got)
	}
	if again, err := d.BringMesh(elsewhere); err != nil || again != rel {
		t.Errorf("brought again: %q, %v", again, err)
	}
	must(t, d.Change("mesh", Change{"/parts/0/mesh", rel}))
	if got := meshFiles(t, d); !slices.Equal(got, []string{"new-lid.stl"}) || d.State().Doc.Parts[0].Mesh != rel {
		t.Errorf("named: %v", got)
	}
	must(t, d.Undo())
	if got := meshFiles(t, d); len(got) != 0 || d.State().Doc.Parts[0].Mesh != here {
		t.Errorf("undo leaves %v", got)
	}
	must(t, d.Redo())
	if got := meshFiles(t, d); len(got) != 1 {
		t.Errorf("redo makes %v", got)
	}
	bad := filepath.Join(t.TempDir(), "bad.stl")
	must(t, os.WriteFile(bad, []byte("no mesh"), 0o600))
	if _, err := d.BringMesh(bad); err == nil {
		t.Error("what is no mesh was brought")
	}
}

// An edit that fails half way leaves no file, nor does a layout that is saved
// elsewhere leave one behind.
func TestNoFileOfAFailedEdit(t *testing.T) {
	d := plainAtWork(t)
	if _, err := d.MirrorParts([]string{"lid", "nobody"}); err == nil {
		t.Fatal("nobody was mirrored")
	}
	if got := meshFiles(t, d); len(got) != 0 {
		t.Errorf("left: %v", got)
	}
	_, err := d.MirrorParts([]string{"lid"})
	must(t, err)
	before := d.State().Path
	must(t, d.SaveAs(filepath.Join(t.TempDir(), "elsewhere")))
	if got := meshFiles(t, d); len(got) != 1 {
		t.Errorf("saved: %v", got)
	}
	if left, err := os.ReadDir(filepath.Join(before, "meshes")); err == nil && len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A packed layout that takes in a mirrored mesh is not said to be changed by others.
func TestMirroringInAPackedLayout(t *testing.T) {
	d := plainAtWork(t)
	must(t, d.SaveAs(filepath.Join(t.TempDir(), "plain"+layout.PackedExt)))
	_, err := d.MirrorParts([]string{"lid"})
	must(t, err)
	d.LookAtDisk()
	if o := d.keep.outside; o.any() {
		t.Errorf("taken for the work of others: %+v", o)
	}
	must(t, d.Undo())
	must(t, d.Redo())
	must(t, d.Save())
	if n := len(d.State().Scene.Parts); n != 4 {
		t.Errorf("%d parts", n)
	}
}

// Routes are copied, mirrored and grouped as parts are.
func TestRoutesAreCopiedAndMirrored(t *testing.T) {
	d := plainAtWork(t)
	must(t, d.Edit("add a hose", func(doc *layout.Document) error {
		doc.Routes = append(doc.Routes, layout.Route{Name: "hose", Role: "hose", DiameterMM: 12, PointsMM: []geom.Vec{{1500, 250, 300}, {1700, 260, 300}}})
		return nil
	}))
	names, err := d.MirrorParts([]string{"hose", "lid"})
	must(t, err)
	doc := d.State().Doc
	if !slices.Equal(names, []string{"hose copy", "lid copy"}) || len(doc.Routes) != 2 || doc.Routes[1].PointsMM[1] != (geom.Vec{1700, -260, 300}) {
		t.Errorf("%v, routes %+v", names, doc.Routes)
	}
	if doc.Routes[0].PointsMM[1] != (geom.Vec{1700, 260, 300}) {
		t.Error("the hose itself was bent")
	}
	names, err = d.CopyParts([]string{"hose"})
	must(t, err)
	must(t, d.GroupParts([]string{"hose", names[0]}, "lines"))
	if doc := d.State().Doc; doc.Routes[2].Name != "hose copy 2" || doc.Routes[0].Group != "lines" || doc.Routes[2].Group != "lines" || doc.Routes[1].Group != "" {
		t.Errorf("%+v", doc.Routes)
	}
}
