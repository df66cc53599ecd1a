package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// TestChangedMeshIsANote: a mesh file that isn't what it was when the layout
// was saved is said by every verb, changes no exit code, and is quiet once
// accepted; the same in a folder and packed.
func TestChangedMeshIsANote(t *testing.T) {
	box := plain.Brick(geom.Vec{}, geom.Vec{10, 10, 10})
	dir := fixture.Folder(t, &layout.Document{Title: "t", Parts: []layout.Part{{Name: "a", Role: "engine", Mesh: "a.stl"}, {Name: "b", Role: "engine", Mesh: "a.stl"}}}, map[string]*mesh.Mesh{"a.stl": box})
	packed := filepath.Join(t.TempDir(), "p.aftbay")
	say := func(path string, args ...string) (string, map[string]any) {
		t.Helper()
		code, out, errs := do(t, append([]string{"inspect", path, "--json", "-"}, args...)...)
		if code != exitFine {
			t.Fatalf("exit %d: %s", code, errs)
		}
		return errs, decode(t, out)
	}
	if errs, r := say(dir); errs != "" || r["notes"] != nil {
		t.Errorf("nothing is remembered, yet it says %q, %v", errs, r["notes"])
	}
	say(dir, "--accept")
	path := filepath.Join(dir, "a.stl")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	data[0] ^= 1 // in the comment: the shape stays
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := do(t, "rules", dir, "--into", packed, "--quiet"); code != exitFine || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	const want = "a.stl has changed since the layout was saved (the same size, other content): accept it, or put the old file back"
	for _, at := range []string{dir, packed} {
		errs, r := say(at)
		part := r["parts"].([]any)[1].(map[string]any)
		if errs != "baycheck: note: "+want+"\n" || r["notes"].([]any)[0] != want || part["mesh_changed"] != true || part["said"].([]any)[0] != want {
			t.Errorf("%s: %q, %v, %v", at, errs, r["notes"], part)
		}
		if sum := part["mesh_sha256"].(string); len(sum) != 64 || strings.Trim(sum, "0123456789abcdef") != "" {
			t.Errorf("sum %q", sum)
		}
		if code, _, errs := do(t, "clearance", at, "--quiet"); code != exitFails || errs != "" { // the parts overlap
			t.Errorf("clearance: exit %d, %s", code, errs)
		}
		say(at, "--accept")
		if errs, r := say(at); errs != "" || r["notes"] != nil {
			t.Errorf("accepted, yet %s says %q, %v", at, errs, r["notes"])
		}
	}
}
