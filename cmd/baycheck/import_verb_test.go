package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom/layout"
)

// TestImport: a folder of STL files is looked at, then made a layout, which
// every other verb reads.
func TestImport(t *testing.T) {
	const bay = "../../testdata/meshes/bay_20k"
	code, out, errs := do(t, "import", bay, "--json", "-")
	if code != exitFine {
		t.Fatalf("exit %d: %s", code, errs)
	}
	r := decode(t, out)
	parts := r["parts"].([]any)
	if len(parts) < 80 || r["into"] != "" || len(r["left_out"].([]any)) != 0 {
		t.Errorf("%d parts, into %v, left %v", len(parts), r["into"], r["left_out"])
	}
	for _, p := range parts {
		one := p.(map[string]any)
		if one["mesh_unit"] != "mm" || one["mesh_unit_sure"] != true || one["role_why"] == "" || len(one["sides_mm"].([]any)) != 3 {
			t.Errorf("%v", one)
		}
	}
	dir := filepath.Join(t.TempDir(), "bay")
	code, out, errs = do(t, "import", filepath.Join(bay, "block.stl"), filepath.Join(bay, "muffler_rear.stl"), "--into", dir, "--unit", "in")
	if code != exitFine || !strings.Contains(out, "block") || !strings.Contains(out, "next: baycheck inspect "+dir) {
		t.Errorf("exit %d, %s, %s", code, out, errs)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if len(doc.Parts) != 2 || doc.Parts[0].MeshUnit != "in" || doc.Parts[1].Role != "exhaust" {
		t.Errorf("%+v", doc.Parts)
	}
	if code, _, errs := do(t, "inspect", dir, "--quiet"); code != exitFine || errs != "" {
		t.Errorf("exit %d: %s", code, errs)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"import"}, "import takes a folder of STL files, or the files"},
		{[]string{"import", bay, "--into", dir}, "a layout stands there already"},
		{[]string{"import", bay, "--unit", "furlong"}, `--unit "furlong": give mm, cm, m or in`},
		{[]string{"import", t.TempDir()}, "no STL file that can be read"},
		{[]string{"import", filepath.Join(bay, "scene.json")}, "no STL file: export it as STL"},
	} {
		if code, out, errs := do(t, c.args...); code != exitRefused || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, %s; want %s", c.args, code, errs, c.want)
		}
	}
	if list, err := os.ReadDir(filepath.Join(dir, "meshes")); err != nil || len(list) != 2 {
		t.Errorf("%v, %v", list, err)
	}
}
