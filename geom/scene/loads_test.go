package scene_test

import (
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// TestLoadsArePositions: the positions of a group are those of its table, then
// those of its loads; names must differ, and mounts that hold nothing are said.
func TestLoadsArePositions(t *testing.T) {
	spring := func(x, y float64) layout.Spring {
		return layout.Spring{AtMM: geom.Vec{x, y, 0}, KNMM: geom.Vec{100, 100, 100}}
	}
	doc := &layout.Document{Groups: []layout.Group{{
		Name: "powertrain", Positions: "p.csv", MassKg: new(100.0), CgMM: &geom.Vec{}, DrawnG: &geom.Vec{0, 0, -1},
		Mounts: []layout.Spring{spring(-1, 0), spring(1, -1), spring(1, 1), spring(-1, 0)},
		Loads:  []layout.Load{{Name: "at rest", G: geom.Vec{0, 0, -1}}, {Name: "lifted", G: geom.Vec{0, 0, 0}}},
	}}}
	doc.Format, doc.Version, doc.Title = layout.Format, layout.Version, "test"
	dir := t.TempDir()
	build := func(table string, springs []layout.Spring) (*scene.Scene, error) {
		if err := os.WriteFile(filepath.Join(dir, "p.csv"), []byte(table), 0o644); err != nil {
			t.Fatal(err)
		}
		doc.Groups[0].Mounts = springs
		if err := layout.Save(dir, doc); err != nil {
			t.Fatal(err)
		}
		read, folder, err := layout.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		defer folder.Close()
		return scene.Build(t.Context(), read, folder, nil, scene.Options{})
	}
	all := doc.Groups[0].Mounts
	s, err := build("name,z_mm\ntable,3\n", all)
	if err != nil {
		t.Fatal(err)
	}
	list := s.Positions("powertrain")
	if len(list) != 3 || list[0].Name != "table" || list[1].Name != "at rest" || list[2].Name != "lifted" {
		t.Fatalf("got %+v", list)
	}
	// One g less on 400 N/mm: 100 · 9.80665 / 400 mm up (by hand).
	if up := list[2].ShiftMM[2]; up < 2.4516 || up > 2.4517 {
		t.Errorf("lifted by %g mm", up)
	}
	for _, c := range []struct {
		table   string
		springs []layout.Spring
		want    string
	}{
		{"name\nlifted\n", all, `groups[0] "powertrain": loads[1] "lifted": p.csv has a position of this name too; give one of them another name`},
		{"name\ntable\n", all[1:3], `groups[0] "powertrain": mounts: the mounts leave the group free: nothing holds pitch (about Y); add a mount or a stiffness there`},
	} {
		if _, err := build(c.table, c.springs); err == nil || err.Error() != c.want {
			t.Errorf("got  %v\nwant %s", err, c.want)
		}
	}
}
